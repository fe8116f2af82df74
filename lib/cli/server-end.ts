/** How the start script ends when the web server has ended. */

/** `line` is said on standard error; null where the end was asked for. */
export type ServerEnd = Readonly<{ line: string | null; exitCode: number }>;

const LIKELY_CAUSES: Readonly<Record<string, string>> = {
  SIGKILL: 'perhaps by the system, for want of memory',
  SIGABRT: 'perhaps for want of memory; what it printed last says more',
  SIGSEGV: 'a fault in a native library',
  SIGBUS: 'a fault in a native library, or a disk that is full',
  SIGILL: 'a library that this processor cannot run',
};

/**
 * @param ended exit code and signal as Node gives them
 * @param asked whether the start script had told it to stop
 */
export function serverEnd(
  { code, signal }: Readonly<{ code: number | null; signal: string | null }>,
  asked: 'asked' | 'by-itself',
): ServerEnd {
  if (asked === 'asked') return { line: null, exitCode: signal === 'SIGTERM' ? 0 : (code ?? 1) };
  const kept = 'What was committed is kept; start it again.';
  if (signal !== null) {
    const cause = LIKELY_CAUSES[signal];
    const why = cause === undefined ? '' : ` (${cause})`;
    return { line: `The web server was ended by ${signal}${why}. ${kept}`, exitCode: 1 };
  }
  return {
    line: `The web server ended by itself with code ${code ?? 0}. ${kept}`,
    exitCode: code || 1,
  };
}
