import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { summaryLines } from '@/lib/cli/summary-text';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { SimulationSet } from '@/lib/core/session/session-input';
import { comparisonView } from '@/lib/view/comparison-view';
import { sentenceText } from '@/lib/view/sentence';
import { runBands } from '@/lib/view/timeline-run-bands';
import {
  axialMotion,
  FLOWN_PLAN,
  flownTelemetry,
  moveParts,
  sessionOf,
} from '../support/flown-session';

const plan = { ...FLOWN_PLAN, steps: FLOWN_PLAN.steps.slice(2) };
const axial = axialMotion(30, moveParts(0.08, 32, 40));

function flown(seed: number) {
  return flownTelemetry({ axial, durationS: 500, stepS: 1, seed, lateralM: [0.07, 80 + seed] });
}

/** An arrival held against some runs; `flights` of them were flown, as sessions that are there. */
function compared(count: number, flights = 0) {
  const runs = Array.from({ length: count }, (_, index) => ({
    ...flown(index + 2),
    file: index < flights ? `session ${index}` : `run-${index}.csv`,
  }));
  const said = { basis: 'prediction', is: 'flight' } as const;
  const simulations: SimulationSet = {
    files: 'run-*.csv',
    like: 'telemetry.csv',
    sha256: 'b'.repeat(64),
    runs,
    about: {
      flown: { massKg: null, navigationModel: null, configuration: null },
      all: {
        basis: 'prediction',
        version: 'Third',
        initialState: null,
        inputs: 'own',
        massKg: null,
        navigationModel: null,
        configuration: null,
      },
      parts: [{ files: 'session *', said: { basis: said.basis }, is: said.is }],
    },
  };
  const input = { ...sessionOf([flown(1)], plan), simulations };
  const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
  const { reconstruction } = reconstruct(input, { engine: 'test', sha256 });
  const view = comparisonView(reconstruction, 's', { question: null, asked: null, query: '' });
  if (view === null) throw new Error('nothing was compared');
  return { view, comparison: reconstruction.comparison, lines: summaryLines(reconstruction) };
}

/** One number has no quantiles, and a sample of n orders its future like in n + 1 ways: no source is needed. */
test('one run makes no band: it stands beside the flight alone', () => {
  const { view, comparison, lines } = compared(1);
  expect(sentenceText(view.lead[0] ?? [])).toContain('held against 1 simulator run. One says');
  const [card] = view.cards;
  expect(sentenceText(card?.outside ?? [])).toBe(
    'One run makes no band, so nothing is said to lie outside.',
  );
  expect(card?.stretches).toEqual([]);
  expect(card?.drawing?.outside).toEqual([]);
  expect(card?.drawing?.band).toBe('');
  expect(card?.drawing?.opened).not.toBe('');
  expect(card?.pairs.map(({ against }) => against)).toEqual(['run-0.csv']);
  expect(card?.spoken).not.toMatch(/band|percentile|1 runs/);
  expect(view.report.join(' ')).not.toMatch(/ 1 runs/);
  expect(runBands(comparison)).toEqual([]);
  expect(lines.at(-1)).toBe('final against 1 run: too few to say more');
});

test('a few runs make a band, and do not say what chance puts outside', () => {
  const { view } = compared(5);
  const outside = sentenceText(view.cards[0]?.outside ?? []);
  expect(outside).toContain('A band of 5 runs is little more than from their smallest');
  expect(outside).not.toContain('nineteen of twenty');
});

test('another flight is called one, and nothing said of the runs holds for it', () => {
  const { view, comparison } = compared(3, 1);
  expect(sentenceText(view.lead[0] ?? [])).toContain('2 simulator runs and 1 other flight');
  const [flight, runs] = view.groups;
  expect(flight).toMatchObject({
    what: '1 other flight, session 0',
    about: 'flown, a row each 1 s',
  });
  expect(flight?.claim).toMatch(/^Not like for like: another flight/);
  expect(runs?.about).toContain('simulator version Third');
  expect(runBands(comparison)[0]?.words).toContain('2 simulator runs and 1 other flight');
  const alone = compared(1, 1).view;
  expect(sentenceText(alone.lead[0] ?? [])).toContain('held against 1 other flight. ');
  expect(alone.vehicle).toBeNull();
});
