/**
 * Answers of the project's own routes, looked at before they are shown: a proxy's page, or the answer
 * of another version of the program, is then an error in words and not a broken screen.
 */
import type { WatchedJob } from './import-view';
import type { DifferencesView } from './timeline-differences';
import type { RatesView } from './timeline-rates';
import type { SoughtView } from './timeline-sought';
import type { StretchView } from './timeline-stretch';
import type { StretchTable } from './timeline-table';

type Fields = Readonly<Record<string, unknown>>;

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function areStrings(value: Fields, names: readonly string[]): boolean {
  return names.every((name) => typeof value[name] === 'string');
}

function areNumbers(value: Fields, names: readonly string[]): boolean {
  return names.every((name) => typeof value[name] === 'number');
}

function isListOf(value: unknown, fits: (item: Fields) => boolean): boolean {
  return Array.isArray(value) && value.every((item) => isFields(item) && fits(item));
}

function isListOfStrings(value: unknown): boolean {
  return Array.isArray(value) && value.every((item) => typeof item === 'string');
}

function isFigure(value: unknown): boolean {
  if (!isFields(value)) return false;
  const lists = ['parts', 'sources', 'channels'].every((name) => Array.isArray(value[name]));
  return lists && areStrings(value, ['label', 'value', 'unit', 'text', 'method']);
}

/** The figures of a stretch and what was said meanwhile. */
export function isStretchView(value: unknown): value is StretchView {
  return (
    isFields(value) &&
    isListOf(value.figures, (item) => typeof item.key === 'string' && isFigure(item.figure)) &&
    isListOf(value.words, (item) => areNumbers(item, ['tS']) && areStrings(item, ['text'])) &&
    typeof value.moreWords === 'number'
  );
}

/** A stretch as a table; `cut` where only its first rows were read. */
export type StretchRows = Readonly<{ table: StretchTable; cut: boolean }>;

const STATISTICS = ['key', 'label', 'unit', 'count', 'least', 'mean', 'greatest', 'deviation'];

export function isStretchRows(value: unknown): value is StretchRows {
  if (!isFields(value) || typeof value.cut !== 'boolean' || !isFields(value.table)) return false;
  const { statistics, head, rows, note } = value.table;
  return (
    isListOf(statistics, (item) => areStrings(item, STATISTICS)) &&
    isListOfStrings(head) &&
    isListOf(rows, (item) => typeof item.tS === 'number' && isListOfStrings(item.values)) &&
    typeof note === 'string'
  );
}

/** What two cursors say of each column. */
export function isDifferencesView(value: unknown): value is DifferencesView {
  return (
    isFields(value) &&
    areStrings(value, ['stretch', 'text', 'csv']) &&
    isListOfStrings(value.head) &&
    isListOf(
      value.rows,
      (item) => areStrings(item, ['key', 'label']) && isListOf(item.figures, isFigure),
    )
  );
}

/** How fast columns change at the cursor. */
export function isRatesView(value: unknown): value is RatesView {
  return (
    isFields(value) &&
    typeof value.atS === 'number' &&
    isListOf(value.rates, (item) => areStrings(item, ['key', 'text']))
  );
}

/** What a search for stretches beyond a value found. */
export function isSoughtView(value: unknown): value is SoughtView {
  const isRow = (item: Fields): boolean =>
    areNumbers(item, ['fromS', 'toS']) &&
    areStrings(item, ['lasts', 'href']) &&
    isFigure(item.worst) &&
    isFields(item.trace) &&
    typeof item.trace.path === 'string';
  return (
    isFields(value) &&
    areStrings(value, ['asked']) &&
    isListOf(
      value.sessions,
      (item) =>
        areStrings(item, ['sessionId', 'title']) &&
        areNumbers(item, ['count']) &&
        isListOf(item.rows, isRow),
    )
  );
}

const JOB_STATES: readonly unknown[] = ['waiting', 'running', 'done', 'failed', 'cancelled'];

function isJobResult(value: unknown): boolean {
  if (value === null) return true;
  if (!isFields(value) || typeof value.wasThere !== 'boolean') return false;
  return isListOf(value.issues, (item) => areStrings(item, ['code', 'severity', 'message']));
}

/** One import as it stands. */
export function isWatchedJob(value: unknown): value is WatchedJob {
  return (
    isFields(value) &&
    areStrings(value, ['id', 'kind', 'stage']) &&
    areNumbers(value, ['bytesDone', 'bytesTotal', 'rowsDone']) &&
    JOB_STATES.includes(value.state) &&
    typeof value.cancelRequested === 'boolean' &&
    (value.sessionId === null || typeof value.sessionId === 'string') &&
    isJobResult(value.result)
  );
}

/** Text as JSON that fits; null where it is no JSON or does not fit. */
export function readJson<T>(text: string, fits: (value: unknown) => value is T): T | null {
  try {
    const value: unknown = JSON.parse(text);
    return fits(value) ? value : null;
  } catch {
    return null;
  }
}
