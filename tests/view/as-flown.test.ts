import { expect, test } from 'vitest';
import type { CaptureReport } from '@/lib/core/reconstruction/contact-report';
import type { SequenceItem } from '@/lib/core/reconstruction/reconstruction';
import { sequenceCsv, sequenceView } from '@/lib/view/as-flown-view';
import { captureView } from '@/lib/view/capture-view';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

const contact: SequenceItem = {
  key: 'contact',
  kind: 'contact',
  what: 'Contact',
  plannedS: sampleFigure(650, 's'),
  seen: [
    {
      kind: 'motion',
      timeS: sampleFigure(796.3, 's', 0.4),
      words: 'first touch',
      source: null,
      line: null,
    },
    {
      kind: 'written',
      timeS: sampleFigure(796.4, 's'),
      words: '=1+1, said "Contact"',
      source: 'events.csv',
      line: 3,
    },
  ],
  differenceS: sampleFigure(146.3, 's', 0.4),
  note: null,
};
const notSeen: SequenceItem = {
  key: 'step-hold-30',
  kind: 'step',
  what: 'Hold 30 starts',
  plannedS: sampleFigure(208.4, 's'),
  seen: [],
  differenceS: null,
  note: 'not seen in the motion',
};
const flown = { ...sampleReconstruction, sequence: [notSeen, contact] };

test('the file holds every row in the order flown, and no cell that a spreadsheet would run', () => {
  const lines = [...sequenceCsv(flown)];
  const at = lines.slice(1).map((line) => Number(line.split(',')[0]));
  // Six spoken lines, the contact and the step that was not seen.
  expect(lines).toHaveLength(1 + 6 + 2);
  expect(at.filter((value) => value > 0)).toEqual(
    [...at].filter((value) => value > 0).sort((a, b) => a - b),
  );
  const row = lines.find((line) => line.includes(',contact,Contact,'));
  expect(row).toBe(
    '796.3,0.4,00:13:16.3,contact,Contact,motion,650,146.3,0.4,"\'=1+1, said ""Contact""","events.csv, line 3","written 796.4 s (events.csv, line 3)",',
  );
  expect(lines.find((line) => line.includes('Hold 30 starts'))).toBe(
    ',,,step,Hold 30 starts,,208.4,,,,,,not seen in the motion',
  );
});

test('what was only said is counted, and stands between the events when asked for', () => {
  const events = sequenceView(flown, 'events', SAMPLE_SESSION_ID);
  expect(events.rows.map(({ what }) => what)).toEqual(['Hold 30 starts', 'Contact']);
  expect(events.saidCount).toBe(6);
  const all = sequenceView(flown, 'all', SAMPLE_SESSION_ID);
  expect(all.rows).toHaveLength(8);
  expect(all.rows.at(-1)?.what).toBe('Contact');
});

function captureWith(differenceS: number, half: number | null): CaptureReport {
  return {
    reports: [],
    reportDelayS: null,
    stages: [
      {
        stage: 'hard_capture',
        event: 'hard-capture',
        seen: contact.seen,
        afterContactS: sampleFigure(300 + differenceS, 's', half),
        plannedS: 300,
        toleranceS: 20,
        differenceS: sampleFigure(differenceS, 's', half),
        outOfOrder: null,
      },
    ],
    settling: { limitMps: 0.005, forS: 10, peakMps: null, reason: 'No telemetry.' },
    retraction: null,
    latches: { planned: 12, closed: sampleFigure(11, '1'), reason: null },
  };
}

test.each([
  [0, 1, 'as planned'],
  [20, null, 'as planned'],
  [-30, 2, 'early'],
  [30, 2, 'late'],
  [19, 2, 'too close to call'],
] as const)('a stage %d s off with a half-width of %s is %s', (off, half, word) => {
  const view = captureView({ ...flown, capture: captureWith(off, half) }, SAMPLE_SESSION_ID);
  expect(view?.stages[0]?.standing).toBe(word);
});

test('eleven of twelve latches are too few', () => {
  const view = captureView({ ...flown, capture: captureWith(0, 1) }, SAMPLE_SESSION_ID);
  expect(view?.latches).toMatchObject({ planned: 12, tone: 'beyond' });
});
