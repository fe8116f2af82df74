/**
 * The three kinds of trouble, kept apart: issues are values, refusals are one class, bugs are
 * assertions (STYLE: errors).
 */

/** How grave an issue is: an `error` stops the import, a `warning` and a `note` are shown with it. */
export type Severity = 'error' | 'warning' | 'note';

/**
 * One thing wrong, or worth saying, about a file or a document.
 *
 * `code` is a stable word (`time-not-ascending`); `message` is the whole sentence for a person and
 * holds the offending value with its unit. `keyPath` is the place in a YAML or JSON file
 * (`plan.steps[2].hold_m`), `line` is 1-based.
 */
export type Issue = Readonly<{
  code: string;
  severity: Severity;
  message: string;
  file?: string;
  keyPath?: string;
  line?: number;
  expected?: string;
  received?: string;
}>;

/** What a reader understood (`null` when nothing usable) and everything it has to say about it. */
export type Parsed<T> = Readonly<{ value: T | null; issues: readonly Issue[] }>;

/** True when one of the issues stops the work. */
export function hasErrors(issues: readonly Issue[]): boolean {
  return issues.some((issue) => issue.severity === 'error');
}

/**
 * One line for a terminal: `file:line key: message`, the parts that are known.
 *
 * @param issue any issue
 * @returns a single line without a line break
 */
export function formatIssue(issue: Issue): string {
  const where = [
    issue.file === undefined
      ? ''
      : issue.line === undefined
        ? issue.file
        : `${issue.file}:${issue.line}`,
    issue.keyPath ?? '',
  ]
    .filter((part) => part !== '')
    .join(' ');
  return plainLine(where === '' ? issue.message : `${where}: ${issue.message}`);
}

/** Text of a file on one line of a terminal: control characters and line breaks become spaces. */
export function plainLine(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]+/g, ' ');
}

/** A command that cannot be done. Thrown only in `lib/server/commands`, caught only by the runner. */
export class DomainError extends Error {
  readonly code: string;
  readonly details: Readonly<Record<string, string | number>>;

  constructor(
    code: string,
    message: string,
    details: Readonly<Record<string, string | number>> = {},
  ) {
    super(message);
    this.name = 'DomainError';
    this.code = code;
    this.details = details;
  }
}

/** Stops on a bug of ours. Never used for what a person or a file may get wrong. */
export function invariant(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`invariant: ${message}`);
}
