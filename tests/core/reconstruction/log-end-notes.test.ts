import { expect, test } from 'vitest';
import { logEndNotes } from '@/lib/core/reconstruction/log-end-notes';
import type { PlacedSource } from '@/lib/core/reconstruction/placed-sources';
import type { EventSource } from '@/lib/core/session/session-input';
import { inventoryView } from '@/lib/view/sources-view';

/** A log placed `offsetS` later than its own clock says. */
function placedLog(
  file: string,
  atS: readonly number[],
  offsetS: number,
): PlacedSource<EventSource> {
  const entries = atS.map((sourceS, line) => {
    return { sourceS, sourceEndS: null, event: null, text: 'x', speaker: null, line };
  });
  const source: EventSource = {
    type: 'events',
    file,
    sha256: '',
    clock: { kind: 'given', offsetS, driftPpm: 0 },
    entries,
    rowsRead: entries.length,
    rowsRejected: 0,
  };
  const placed: Pick<PlacedSource<EventSource>, 'source' | 'toSession' | 'contradiction'> = {
    source,
    toSession: (sourceS) => sourceS + offsetS,
    contradiction: null,
  };
  // Clock and solution are not looked at.
  return placed as PlacedSource<EventSource>;
}

test('a log that ends more than a minute before contact says so, on session time', () => {
  const logs = [placedLog('early.txt', [10, 100], 30), placedLog('late.txt', [10, 350], 30)];
  const notes = logEndNotes(logs, { timeS: 400, what: 'contact' });
  // The early one ends at 130 s, the late one at 380 s.
  expect(notes).toMatchObject([{ code: 'log-ends-early', file: 'early.txt' }]);
  expect(notes[0]?.message).toMatch(/^The log early\.txt ends 4 min 30 s before contact/);
  expect(logEndNotes([placedLog('empty.txt', [], 0)], { timeS: 400, what: 'contact' })).toEqual([]);
});

test('the inventory repeats it beside the file', () => {
  const kept = {
    file: 'early.txt',
    type: 'events',
    sha256: '',
    bytes: 1,
    number: 1,
    lateAtIso: null,
    columns: [],
    stamping: { stamp: null, latencyS: null, available: null },
    setAside: { rows: 0, cells: 0, outOfOrder: 0 },
    stageSeconds: {},
  } as const;
  const note = { code: 'log-ends-early', file: 'early.txt', message: 'early.txt ends early.' };
  expect(inventoryView([kept], [note])).toEqual([
    { file: 'early.txt', state: 'received', note: 'early.txt ends early.' },
  ]);
});
