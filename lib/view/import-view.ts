/** An import as it is watched: stage, bytes, rows, and what it came to. */
import type { Issue } from '../core/result';
import { formatCount } from '../core/units/number-text';
import { quickLookHref } from './debrief/quick-look-href';
import { formatBytes, plural } from './format-number';

/** The part of a job's row that is shown; it arrives as JSON at each change. */
export type WatchedJob = Readonly<{
  id: string;
  kind: string;
  state: 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';
  stage: string;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number;
  sessionId: string | null;
  cancelRequested: boolean;
  result: Readonly<{
    sessionId: string | null;
    wasThere: boolean;
    issues: readonly Issue[];
    describe?: string;
  }> | null;
}>;

export type IssueRow = Readonly<{
  key: string;
  severity: Issue['severity'];
  file: string;
  line: string;
  keyPath: string;
  found: string;
  expected: string;
  message: string;
}>;

export type ImportView = Readonly<{
  title: string;
  isOpen: boolean;
  stage: string;
  /** 0 to 1; null where nothing can be measured. */
  fraction: number | null;
  bytes: string | null;
  rows: string | null;
  /** The way on to the session, once there is one to look at. */
  session: Readonly<{ href: string; words: string }> | null;
  /** Two pages on what was just imported; null where there is nothing new to look at. */
  quickLookHref: string | null;
  /** Where a person says what the files are, when they came without a session.yaml. */
  describeHref: string | null;
  /** In words, once it has ended. */
  outcome: string | null;
  issues: readonly IssueRow[];
  /** What the button that stops it says; null where it cannot be stopped. */
  cancelWords: string | null;
  /** True where the next thing may be another import. */
  canImportAnother: boolean;
}>;

/** What stood in the way comes first. */
const RANKS: Readonly<Record<Issue['severity'], number>> = { error: 0, warning: 1, note: 2 };

/** Errors, then warnings, then notes; of each kind in the order they were found. */
export function gravestFirst(issues: readonly Issue[]): readonly Issue[] {
  return [...issues].sort((a, b) => RANKS[a.severity] - RANKS[b.severity]);
}

export function importView(job: WatchedJob): ImportView {
  const isOpen = job.state === 'waiting' || job.state === 'running';
  const sessionId = job.result?.sessionId ?? job.sessionId;
  const issues = job.result?.issues ?? [];
  return {
    title: titleOf(job),
    isOpen,
    stage: job.cancelRequested && isOpen ? 'Stopping' : job.stage,
    fraction: isOpen && job.bytesTotal > 0 ? Math.min(1, job.bytesDone / job.bytesTotal) : null,
    bytes:
      job.bytesTotal > 0 ? `${formatBytes(job.bytesDone)} of ${formatBytes(job.bytesTotal)}` : null,
    rows: job.rowsDone > 0 ? plural(job.rowsDone, 'row') : null,
    session: sessionId === null || isOpen ? null : sessionLink(job, sessionId),
    quickLookHref:
      job.state === 'done' && sessionId !== null && wordsOf(job) !== WORDS.replace
        ? quickLookHref(sessionId)
        : null,
    describeHref:
      job.result?.describe === undefined ? null : `/import/describe/${job.result.describe}`,
    outcome: isOpen ? null : outcomeOf(job, issues),
    issues: issueRows(gravestFirst(issues)),
    cancelWords: isOpen && !job.cancelRequested ? wordsOf(job).cancel : null,
    canImportAnother: !isOpen && wordsOf(job) !== WORDS.replace,
  };
}

type Words = Readonly<{
  open: string;
  done: string;
  failed: string;
  cancelled: string;
  cancel: string | null;
  /** What is left after it did not come to its end. */
  kept: string;
}>;

const IMPORT_WORDS: Words = {
  open: 'Importing a session',
  done: 'The session is imported',
  failed: 'The session was not imported',
  cancelled: 'The import was cancelled',
  cancel: 'Cancel the import',
  kept: 'Nothing was kept; your files are as they were.',
};

const WORDS: Readonly<Record<string, Words>> = {
  import: IMPORT_WORDS,
  demo: {
    ...IMPORT_WORDS,
    open: 'Loading the invented demo',
    done: 'The invented demo is imported',
    failed: 'The invented demo was not imported',
  },
  replace: {
    open: 'Replacing a file',
    done: 'The file is replaced',
    failed: 'The file was not replaced',
    cancelled: 'The file was not replaced',
    cancel: 'Cancel the replacement',
    kept: 'The session is as it was.',
  },
  trial: {
    open: 'Reading sessions with a draft',
    done: 'The sessions were read with the draft',
    failed: 'The sessions could not be read with the draft',
    cancelled: 'The preview was stopped',
    cancel: 'Stop the preview',
    kept: 'Nothing was changed.',
  },
  reconstruct: {
    open: 'Computing a reconstruction again',
    done: 'The reconstruction is computed again',
    failed: 'The reconstruction could not be computed again',
    cancelled: 'The reconstruction was not computed again',
    cancel: null,
    kept: 'The earlier one stays in use; the next start of the program tries again.',
  },
};

function wordsOf(job: WatchedJob): Words {
  return WORDS[job.kind] ?? IMPORT_WORDS;
}

/** What is shown of the session when the job has ended; a session that never came to be has no page. */
function sessionLink({ kind, state }: WatchedJob, sessionId: string): ImportView['session'] {
  const href = `/sessions/${encodeURIComponent(sessionId)}`;
  if (kind === 'replace') {
    return state === 'done'
      ? { href: `${href}/sources/changes`, words: 'See what it changed' }
      : { href: `${href}/sources`, words: 'Back to the sources' };
  }
  return state === 'done' || kind === 'reconstruct' ? { href, words: 'Open the session' } : null;
}

function titleOf(job: WatchedJob): string {
  const words = wordsOf(job);
  if (job.state === 'waiting' || job.state === 'running') return words.open;
  if (job.state !== 'done') return words[job.state];
  if (job.result?.describe !== undefined) return 'What are these files?';
  return job.result?.wasThere === true ? 'Already imported' : words.done;
}

function outcomeOf(job: WatchedJob, issues: readonly Issue[]): string {
  const { kept } = wordsOf(job);
  if (job.state === 'cancelled') return kept;
  if (job.result?.describe !== undefined && job.state === 'done') {
    return 'There is no session.yaml with them. Say once how their times and columns are to be read.';
  }
  if (job.state === 'done') {
    if (job.result?.wasThere === true) {
      return 'A session of exactly these files is here already: it was found by their content, and nothing was added or changed.';
    }
    if (job.kind === 'reconstruct') {
      return 'The session shows the new one. Published debriefs stay as they are.';
    }
    return issues.length === 0
      ? 'Everything was read.'
      : `It was read, with ${plural(issues.length, 'remark')}.`;
  }
  const errors = issues.filter((issue) => issue.severity === 'error').length;
  return errors === 0 ? kept : `${plural(errors, 'problem')} stood in the way. ${kept}`;
}

/** Issues as rows of a table, in the order they were found. */
export function issueRows(issues: readonly Issue[]): readonly IssueRow[] {
  return issues.map(issueRow);
}

function issueRow(issue: Issue, index: number): IssueRow {
  return {
    key: `${index}-${issue.code}`,
    severity: issue.severity,
    file: issue.file ?? '',
    line: issue.line === undefined ? '' : formatCount(issue.line),
    keyPath: issue.keyPath ?? '',
    found: unlessSaid(issue.received, issue.message),
    expected: unlessSaid(issue.expected, issue.message),
    message: issue.message,
  };
}

/** A message that already names what was found or expected is not followed by it again. */
function unlessSaid(text: string | undefined, message: string): string {
  return text === undefined || message.includes(text) ? '' : text;
}
