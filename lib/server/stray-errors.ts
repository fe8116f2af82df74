/** Errors that nothing caught: the server says each in one line and goes on. */
import { logLine } from './log-line';

const MOST_LETTERS = 300;

/** What went wrong and where, each without a line break. */
export function strayErrorText(error: unknown): Readonly<{ reason: string; place: string }> {
  const whole = String(error).replace(/\s+/g, ' ');
  const reason = whole.length > MOST_LETTERS ? `${whole.slice(0, MOST_LETTERS)}\u2026` : whole;
  const stack = error instanceof Error ? (error.stack ?? '') : '';
  return { reason, place: /^\s*(at .*)$/m.exec(stack)?.[1] ?? '' };
}

/**
 * Each request and job stands alone and the database commits or does not, so one that broke down is
 * no reason to end the others: the server goes on. What ends a process from outside (a signal, a
 * fault in native code) is said by the start script.
 */
export function logStrayErrors(): void {
  for (const event of ['uncaughtException', 'unhandledRejection'] as const) {
    process.on(event, (error: unknown) => logLine(event, strayErrorText(error)));
  }
}
