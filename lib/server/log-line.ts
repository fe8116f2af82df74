/** The log: one line of JSON per command, job or mended thing, on standard output. */

type LogValue = string | number | boolean | null;

/** Writes one line. `event` says what it is; nothing personal beyond an actor's name belongs in it. */
export function logLine(event: string, fields: Readonly<Record<string, LogValue>>): void {
  process.stdout.write(`${JSON.stringify({ at: new Date().toISOString(), event, ...fields })}\n`);
}
