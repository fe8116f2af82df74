import { describe, expect, test } from 'vitest';
import type { Annotation, Finding } from '@/lib/core/findings/finding';
import {
  NO_HISTORY,
  type Remark,
  remarkName,
  remember,
  restorationOf,
  stepped,
  withoutRemark,
} from '@/lib/view/timeline-history';

const row = { author: 'A', createdAtIso: '', updatedAtIso: '' };
const anchor = { sessionId: 's', fromS: 1, toS: 2, channels: [] };

function finding(id: string, version: number, title: string): Remark {
  const words = {
    title,
    seen: 'x',
    change: '',
    owner: '',
    due: '',
    kind: 'anomaly',
    severity: 'note',
  } as const;
  const value: Finding = {
    ...{ id, number: 3, version, state: 'draft', anchor, figures: [] },
    ...words,
    ...row,
  };
  return { kind: 'finding', finding: value };
}

function annotation(id: string, version: number, text: string): Remark {
  const value: Annotation = { id, version, text, anchor, ...row };
  return { kind: 'annotation', annotation: value };
}

describe('one’s own edits', () => {
  test('an edit of a finding is undone with the version it has now, and done again', () => {
    const edit = { before: finding('f', 4, 'old'), after: finding('f', 5, 'new') };
    const done = remember(NO_HISTORY, edit);
    expect(remarkName(edit)).toBe('finding 3');
    expect(restorationOf(done, 'undo')).toMatchObject({
      finding: { title: 'old' },
      existing: { id: 'f', version: 5 },
    });
    const undone = stepped(done, 'undo', finding('f', 6, 'old'));
    expect(restorationOf(undone, 'undo')).toBeNull();
    expect(restorationOf(undone, 'redo')).toMatchObject({
      finding: { title: 'new' },
      existing: { id: 'f', version: 6 },
    });
  });

  test('a finding that was made is withdrawn, and stands again', () => {
    const made = remember(NO_HISTORY, { before: null, after: finding('f', 1, 'new') });
    expect(restorationOf(made, 'undo')).toMatchObject({ finding: { state: 'withdrawn' } });
    const undone = stepped(made, 'undo', finding('f', 2, 'new'));
    expect(restorationOf(undone, 'redo')).toMatchObject({
      finding: { state: 'draft' },
      existing: { version: 2 },
    });
  });

  test('an annotation that comes back under a new id is still the same to older edits', () => {
    const first = remember(NO_HISTORY, { before: null, after: annotation('a', 1, 'one') });
    const edit = { before: annotation('a', 1, 'one'), after: annotation('a', 2, 'two') };
    const removed = remember(remember(first, edit), {
      before: annotation('a', 2, 'two'),
      after: null,
    });
    expect(restorationOf(removed, 'undo')).toMatchObject({
      annotation: { text: 'two' },
      existing: null,
    });
    const back = stepped(removed, 'undo', annotation('b', 1, 'two'));
    expect(restorationOf(back, 'undo')).toMatchObject({
      annotation: { text: 'one' },
      existing: { id: 'b', version: 1 },
    });
    const older = stepped(back, 'undo', annotation('b', 2, 'one'));
    expect(restorationOf(older, 'undo')).toEqual({
      act: 'drop-annotation',
      existing: { id: 'b', version: 2 },
    });
  });

  test('a new edit ends what could be done again; a lost remark leaves the others', () => {
    const one = remember(NO_HISTORY, { before: null, after: finding('f', 1, 'one') });
    const undone = stepped(one, 'undo', finding('f', 2, 'one'));
    const other = remember(undone, { before: null, after: annotation('a', 1, 'two') });
    expect(restorationOf(other, 'redo')).toBeNull();
    const both = remember(other, { before: null, after: finding('g', 1, 'three') });
    expect(restorationOf(withoutRemark(both, 'g'), 'undo')).toMatchObject({
      act: 'drop-annotation',
    });
  });
});
