import { describe, expect, test } from 'vitest';
import { isStretchRows, isStretchView, isWatchedJob, readJson } from '@/lib/view/checked-answers';
import { stretchView } from '@/lib/view/timeline-stretch';
import { stretchTable } from '@/lib/view/timeline-table';
import { sampleFindings } from '../support/sample-findings';
import { sampleReconstruction } from '../support/sample-reconstruction';

const throughWire = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

const STRETCH = stretchView('s1', {
  figures: sampleFindings[0]?.figures ?? [],
  words: sampleReconstruction.events,
});
const ROWS = {
  table: stretchTable(
    [
      {
        key: 'range',
        unit: 'm',
        tS: Float64Array.of(0, 1),
        values: Float64Array.of(3, Number.NaN),
      },
    ],
    40,
  ),
  cut: false,
};
const JOB = {
  id: 'j1',
  kind: 'import',
  state: 'failed',
  stage: 'Reading',
  bytesDone: 1,
  bytesTotal: 2,
  rowsDone: 3,
  sessionId: null,
  cancelRequested: false,
  result: {
    sessionId: null,
    wasThere: false,
    issues: [{ code: 'no-such-file', severity: 'error', message: 'No telemetry.csv.' }],
  },
};

describe('an answer of a route', () => {
  test('fits as the route writes it', () => {
    expect(STRETCH.figures.length).toBeGreaterThan(0);
    expect(isStretchView(throughWire(STRETCH))).toBe(true);
    expect(isStretchRows(throughWire(ROWS))).toBe(true);
    expect(isWatchedJob(throughWire(JOB))).toBe(true);
  });

  test('does not fit where a part is missing or of another kind', () => {
    expect(isStretchView({ ...STRETCH, words: [{ tS: '1', text: '' }] })).toBe(false);
    expect(isStretchView({ ...STRETCH, figures: [{ key: 'a', figure: { label: 'A' } }] })).toBe(
      false,
    );
    expect(isStretchRows({ table: { ...ROWS.table, rows: [{ tS: '0' }] }, cut: false })).toBe(
      false,
    );
    expect(isWatchedJob({ ...JOB, state: 'paused' })).toBe(false);
    expect(isWatchedJob({ ...JOB, result: { issues: [] } })).toBe(false);
    expect(isWatchedJob(null)).toBe(false);
  });

  test('text that is no JSON is no answer', () => {
    expect(readJson('<!doctype html>', isWatchedJob)).toBeNull();
    expect(readJson(JSON.stringify(JOB), isWatchedJob)?.id).toBe('j1');
  });
});
