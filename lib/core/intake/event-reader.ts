/** What every reader of a log takes and gives back. */
import type { Issue, Parsed } from '../result';
import type { LogEntry, LogReject } from '../session/session-input';
import type { Instant } from '../time/instant';
import type { TimeSpec } from '../time/time-code';

/** A log read: its entries by time, and how many rows or cues were seen and refused. */
export type EventLog = Readonly<{
  entries: readonly LogEntry[];
  /** Rows or cues, the refused ones included. */
  rowsRead: number;
  rowsRejected: number;
  /** The refused rows, the first thousands of them; absent where none was refused. */
  rejects?: readonly LogReject[];
}>;

/** `time` is null where the session file gives none (captions count from zero by themselves). */
export type LogText = Readonly<{
  text: string;
  fileName: string;
  time: TimeSpec | null;
  zero: Instant;
  /** As stated; found by reading where it is not. */
  separator?: string | null;
}>;

/**
 * A reader of one log format. To add a format, write one file with such a value and put it in the
 * registry.
 */
export type EventReader = Readonly<{
  /** A stable word: `webvtt`. */
  format: string;
  /** File name endings, lower case, without the point. */
  endings: readonly string[];
  /** True where the text shows by its first characters that it is this format. */
  hasSignature: (text: string) => boolean;
  read: (log: LogText) => Parsed<EventLog>;
}>;

/** Beyond this many refused rows the rest is counted, not listed. */
const LISTED_ISSUES = 50;
/** Beyond this many, refused rows are not kept one by one either. */
const MOST_REJECTS = 5_000;

/** How many of the refused rows the list to download has. */
function downloadWords(rowsRejected: number): string {
  const leftOut = rowsRejected - MOST_REJECTS;
  return leftOut > 0 ? `the first ${MOST_REJECTS} (${leftOut} are not)` : 'all';
}

/** Collects entries and refused rows of one log. */
export type LogBuilder = Readonly<{
  accept: (entry: LogEntry) => void;
  reject: (issue: Omit<Issue, 'severity' | 'file'>) => void;
  remark: (issue: Omit<Issue, 'severity' | 'file'>) => void;
  finish: (rowsRead: number) => Parsed<EventLog>;
}>;

/**
 * A collector of what a reader finds in one file.
 *
 * `finish` gives the log with its entries in the order of time, or nothing but an error where rows
 * were read and every one was refused.
 */
export function makeLogBuilder(fileName: string): LogBuilder {
  const entries: LogEntry[] = [];
  const issues: Issue[] = [];
  const rejects: LogReject[] = [];
  let rowsRejected = 0;
  const list = (issue: Omit<Issue, 'severity' | 'file'>) => {
    if (issues.length < LISTED_ISSUES)
      issues.push({ severity: 'warning', file: fileName, ...issue });
  };
  return {
    accept: (entry) => {
      entries.push(entry);
    },
    reject: (issue) => {
      rowsRejected += 1;
      if (rejects.length < MOST_REJECTS) {
        const { line = 0, received: found = '', message: reason } = issue;
        rejects.push({ line, found, reason });
      }
      list(issue);
    },
    remark: list,
    finish: (rowsRead) => {
      if (rowsRejected > LISTED_ISSUES) {
        issues.push({
          code: 'more-rejected',
          severity: 'warning',
          file: fileName,
          message: `${rowsRejected} of ${rowsRead} rows were refused; the first ${LISTED_ISSUES} are listed here, ${downloadWords(rowsRejected)} in the list to download on Sources`,
        });
      }
      if (rowsRead > 0 && entries.length === 0) {
        const [first] = rejects;
        const all: Issue = {
          code: 'nothing-readable',
          severity: 'error',
          file: fileName,
          ...(first === undefined ? {} : { line: first.line }),
          message: `none of ${rowsRead} rows could be read; are file, time column and code the right ones?${first === undefined ? '' : ` The first: ${first.reason}`}`,
        };
        return { value: null, issues: [all, ...issues.slice(0, 3)] };
      }
      entries.sort((a, b) => a.sourceS - b.sourceS);
      const refused = rejects.length === 0 ? {} : { rejects };
      return { value: { entries, rowsRead, rowsRejected, ...refused }, issues };
    },
  };
}

/** A file that cannot be used at all. */
export function refuseLog(
  fileName: string,
  issue: Omit<Issue, 'severity' | 'file'>,
): Parsed<EventLog> {
  return { value: null, issues: [{ severity: 'error', file: fileName, ...issue }] };
}

/** Text of a cell or a value, null where it holds nothing. */
export function textOrNull(text: string | undefined): string | null {
  const trimmed = text?.trim() ?? '';
  return trimmed === '' ? null : trimmed;
}
