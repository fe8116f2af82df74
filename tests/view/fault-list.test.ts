/** Long lists of faults: what a panel shows, what it counts, and the pages of the rest. */
import { expect, test } from 'vitest';
import type { DataFault } from '@/lib/core/reconstruction/reconstruction';
import { sourcesView } from '@/lib/view/sources-view';
import { stretchesView } from '@/lib/view/stretches-view';
import { SAMPLE_SESSION_ID } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

const gapAt = (index: number): DataFault => ({
  source: 'telemetry.csv',
  channel: null,
  kind: 'gap',
  startS: 10 * index,
  endS: 10 * index + 1,
  note: `no row before line ${index}`,
});
const gaps = Array.from({ length: 230 }, (_, index) => gapAt(index));
const spike: DataFault = { ...gapAt(0), kind: 'spike', channel: 'x', note: 'not used' };
const flown = { ...sampleReconstruction, dataQuality: [...gaps, spike] };
const pageOf = (page: string | undefined) =>
  stretchesView(flown, {
    file: 'telemetry.csv',
    columns: ['x'],
    kept: [],
    sessionId: SAMPLE_SESSION_ID,
    page,
  });

test('a panel lists the first faults, counts all and leads to the whole list', () => {
  const [telemetry] = sourcesView(
    [
      {
        file: 'telemetry.csv',
        type: 'telemetry',
        sha256: '0'.repeat(64),
        bytes: 1,
        number: 1,
        lateAtIso: null,
        columns: [],
        setAside: { rows: 0, cells: 0, outOfOrder: 0 },
        stamping: { stamp: 'measured', latencyS: 0, available: 'real-time' },
        stageSeconds: {},
      },
    ],
    flown,
    SAMPLE_SESSION_ID,
  );
  expect(telemetry?.faults).toHaveLength(8);
  expect(telemetry?.allFaults?.counts).toBe('230 gaps, 1 spike');
  expect(telemetry?.allFaults?.text).toBe('all 231 faults');
});

test('pages cover every fault once, and an address beyond the end is the last page', () => {
  const pages = ['1', '2', '3'].map(pageOf);
  const keys = pages.flatMap(({ faults }) => faults.map(({ key }) => key));
  expect(new Set(keys).size).toBe(231);
  expect(keys).toHaveLength(231);
  expect(pages.map(({ pages: { text } }) => text)).toEqual([
    '1 to 100 of 231',
    '101 to 200 of 231',
    '201 to 231 of 231',
  ]);
  expect(pageOf('99').pages).toEqual(pages[2]?.pages);
  expect(pageOf('x').pages).toEqual(pages[0]?.pages);
  expect(pages[2]?.pages.after).toBeNull();
  expect(pages[2]?.pages.before).toContain('page=2');
});
