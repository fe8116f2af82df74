/** One's own edits of findings and annotations in this visit, to be undone and done again. */
import type { Annotation, Finding } from '../core/findings/finding';

export type Remark =
  | Readonly<{ kind: 'finding'; finding: Finding }>
  | Readonly<{ kind: 'annotation'; annotation: Annotation }>;

/** `before` is null where the edit made it, `after` is null where the edit took it away. */
export type RemarkEdit = Readonly<{ before: Remark | null; after: Remark | null }>;

export type RemarkHistory = Readonly<{
  done: readonly RemarkEdit[];
  undone: readonly RemarkEdit[];
  /** The version each remark had when it was last written here: newer ones are somebody else's. */
  versions: ReadonlyMap<string, number>;
}>;

export type HistoryWay = 'undo' | 'redo';

type Existing = Readonly<{ id: string; version: number }>;

/** What has to be saved or dropped to go one step. */
export type Restoration =
  | Readonly<{ act: 'save-finding'; finding: Finding; existing: Existing }>
  | Readonly<{ act: 'save-annotation'; annotation: Annotation; existing: Existing | null }>
  | Readonly<{ act: 'drop-annotation'; existing: Existing }>;

export const NO_HISTORY: RemarkHistory = { done: [], undone: [], versions: new Map() };

function rowOf(remark: Remark): Finding | Annotation {
  return remark.kind === 'finding' ? remark.finding : remark.annotation;
}

/** `finding 3`, or the beginning of an annotation's words. */
export function remarkName(edit: RemarkEdit): string {
  const remark = edit.after ?? edit.before;
  if (remark === null) return 'nothing';
  if (remark.kind === 'finding') return `finding ${remark.finding.number}`;
  const { text } = remark.annotation;
  return `annotation “${text.length > 40 ? `${text.slice(0, 40)}…` : text}”`;
}

/** The edit that is next on a way; null where there is none. */
export function nextEdit(history: RemarkHistory, way: HistoryWay): RemarkEdit | null {
  return (way === 'undo' ? history.done : history.undone).at(-1) ?? null;
}

/** Adds an edit. What had been undone before it cannot be done again. */
export function remember(history: RemarkHistory, edit: RemarkEdit): RemarkHistory {
  return {
    done: [...history.done, edit],
    undone: [],
    versions: versionsAfter(history, edit.after),
  };
}

/**
 * What to save to undo the last edit or to do the last undone one again.
 *
 * A finding that was made is withdrawn, since it keeps its number; an annotation that was made is
 * removed, and one that was removed is written anew. The version is the one last written here, so that a
 * change of somebody else is never written over.
 */
export function restorationOf(history: RemarkHistory, way: HistoryWay): Restoration | null {
  const edit = nextEdit(history, way);
  const target = (way === 'undo' ? edit?.before : edit?.after) ?? null;
  const standing = (way === 'undo' ? edit?.after : edit?.before) ?? null;
  const remark = target ?? standing;
  if (remark === null) return null;
  const { id, version } = rowOf(remark);
  const existing = { id, version: history.versions.get(id) ?? version };
  if (remark.kind === 'finding') {
    const { finding } = remark;
    return {
      act: 'save-finding',
      finding: target === null ? { ...finding, state: 'withdrawn' } : finding,
      existing,
    };
  }
  if (target === null) return { act: 'drop-annotation', existing };
  const { annotation } = remark;
  return { act: 'save-annotation', annotation, existing: standing === null ? null : existing };
}

/**
 * The history one step further.
 *
 * @param saved the row as it was saved; null where it was dropped. An annotation written anew has a new
 *   id, which every other edit of it takes over.
 */
export function stepped(
  history: RemarkHistory,
  way: HistoryWay,
  saved: Remark | null,
): RemarkHistory {
  const edit = nextEdit(history, way);
  if (edit === null) return history;
  const target = way === 'undo' ? edit.before : edit.after;
  const oldId = target === null ? null : rowOf(target).id;
  const newId = saved === null ? null : rowOf(saved).id;
  const rename = (each: RemarkEdit): RemarkEdit =>
    oldId === null || newId === null || oldId === newId
      ? each
      : { before: renamed(each.before, oldId, newId), after: renamed(each.after, oldId, newId) };
  const done = way === 'undo' ? history.done.slice(0, -1) : [...history.done, edit];
  const undone = way === 'undo' ? [...history.undone, edit] : history.undone.slice(0, -1);
  return {
    done: done.map(rename),
    undone: undone.map(rename),
    versions: versionsAfter(history, saved),
  };
}

/** Leaves out the edits of a remark that somebody else has changed: they cannot be undone any more. */
export function withoutRemark(history: RemarkHistory, id: string): RemarkHistory {
  const isOther = ({ before, after }: RemarkEdit): boolean =>
    [before, after].every((each) => each === null || rowOf(each).id !== id);
  return {
    ...history,
    done: history.done.filter(isOther),
    undone: history.undone.filter(isOther),
  };
}

function versionsAfter(history: RemarkHistory, saved: Remark | null): ReadonlyMap<string, number> {
  if (saved === null) return history.versions;
  const { id, version } = rowOf(saved);
  return new Map([...history.versions, [id, version]]);
}

function renamed(remark: Remark | null, oldId: string, id: string): Remark | null {
  if (remark === null || rowOf(remark).id !== oldId) return remark;
  return remark.kind === 'finding'
    ? { ...remark, finding: { ...remark.finding, id } }
    : { ...remark, annotation: { ...remark.annotation, id } };
}
