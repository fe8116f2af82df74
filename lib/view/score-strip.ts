/** Where the flight's score lies among those of the runs, as places on a strip from 0 to 1. */
import { quantileSorted } from '../core/math/quantiles';
import type { Comparison } from '../core/reconstruction/comparison';
import { SCORE_NAMES } from '../core/reconstruction/comparison-scores';

/** `runs` are places of single runs; `low` to `high` is their 5th to 95th percentile. */
export type ScoreStrip = Readonly<{
  runs: readonly number[];
  low: number;
  middle: number;
  high: number;
  flight: number;
}>;

/** A run is drawn once where several would fall on one place. */
const PLACES = 200;
const ROOM = 0.03;

/** One strip a score, by its name; a score that no run has is left out. */
export function scoreStrips(comparison: Comparison): ReadonlyMap<string, ScoreStrip> {
  const strips = new Map<string, ScoreStrip>();
  for (const { name, flight } of comparison.scores) {
    const index = SCORE_NAMES.findIndex((each) => each.name === name);
    const values = comparison.runScores
      .flatMap(({ scores }) => scores[index] ?? [])
      .sort((a, b) => a - b);
    const [first] = values;
    const last = values.at(-1);
    if (first === undefined || last === undefined || flight.value === null) continue;
    const low = Math.min(first, flight.value);
    const span = Math.max(last, flight.value) - low;
    const place = (value: number): number =>
      span === 0 ? 0.5 : ROOM + (1 - 2 * ROOM) * ((value - low) / span);
    const rounded = values.map((value) => Math.round(place(value) * PLACES) / PLACES);
    strips.set(name, {
      runs: [...new Set(rounded)],
      low: place(quantileSorted(values, 0.05, 7)),
      middle: place(quantileSorted(values, 0.5, 7)),
      high: place(quantileSorted(values, 0.95, 7)),
      flight: place(flight.value),
    });
  }
  return strips;
}
