/** Where simulator runs lay, put behind the traces of the flight. */
import type { ComparedQuantity, Comparison } from '../core/reconstruction/comparison';
import { againstWords } from './against-words';
import { plural } from './format-number';

/** From the 5th to the 95th percentile of the runs at the places the flight passes; SI, session time. */
export type RunBand = Readonly<{
  /** Of a derived column its name, else the quantity of a channel. */
  quantity: string;
  /** `200 runs`, beside the strip. */
  label: string;
  /** What the area is, in a sentence. */
  words: string;
  tS: readonly number[];
  low: readonly (number | null)[];
  high: readonly (number | null)[];
}>;

/** What of a comparison the bands are made of. */
export type ComparedRuns = Pick<Comparison, 'runs' | 'groups' | 'order' | 'flightPassS'> &
  Readonly<{ quantities: readonly Pick<ComparedQuantity, 'name' | 'p05' | 'p95'>[] }>;

const COLUMN_NAMES: ReadonlyMap<string, string> = new Map([
  ['y', 'offset_y'],
  ['z', 'offset_z'],
]);

/**
 * The bands of a comparison on session time.
 *
 * The runs are held against the flight at whole metres of axial distance: each place stands at the
 * instant the flight passes it, so the band says where the runs were there, not when.
 *
 * @param comparison null where the session was held against no runs
 */
export function runBands(comparison: ComparedRuns | null): readonly RunBand[] {
  // One run fills no band.
  if (comparison === null || comparison.runs < 2) return [];
  const { flightPassS, runs, quantities } = comparison;
  const places = flightPassS
    .flatMap((tS, index) => (tS === null ? [] : [{ tS, index }]))
    .sort((a, b) => a.tS - b.tS);
  return quantities.map(({ name, p05, p95 }) => ({
    quantity: COLUMN_NAMES.get(name) ?? name,
    label: plural(runs, 'run'),
    words: `Grey: ${againstWords(comparison)}, 5th to 95th percentile, at each metre as the flight passes it.`,
    tS: places.map((place) => place.tS),
    low: places.map(({ index }) => p05[index] ?? null),
    high: places.map(({ index }) => p95[index] ?? null),
  }));
}
