/** Flight and runs as estimated columns, so that a comparison can be asked again in another way. */
import type { FinalPass } from '../compare/alignment';
import { valuesAt } from '../compare/run-column';
import type { Track } from '../compare/track';
import type { EvidenceSource } from '../figure';
import { COMPARED_QUANTITIES } from './compared-names';
import type { FinalStep } from './final-step';

/**
 * `runs` make the bands, `others` do not (reconstructions beside predictions). What figures rest on is
 * kept with them: `channels` and `sources` of the flight, `files` with the hash of all runs, and `people`:
 * what people set of its steps (`step:ID`) and of `contact`, absent where columns are older.
 */
export type CompareTracks = Readonly<{
  pass: FinalPass;
  flight: Track;
  runs: readonly Track[];
  others: readonly Track[];
  channels: readonly string[];
  sources: readonly EvidenceSource[];
  files: string;
  sha256: string;
  people?: Readonly<Record<string, readonly string[]>>;
}>;

/** Names of a track's columns, in the order in which they are kept. */
export const TRACK_COLUMNS: readonly string[] = [
  'range',
  'axial_distance',
  ...COMPARED_QUANTITIES.map(({ name }) => name),
];

/** Every compared quantity of a step's motion, at the rows of the motion. */
export function trackOf(step: FinalStep): Track {
  const { tS, stretches } = step.session.motion;
  const columns = new Map<string, Float64Array>();
  for (const name of TRACK_COLUMNS) {
    const quantity = step.quantity(name);
    if (quantity === null) continue;
    const column = { tS: quantity.tS, values: quantity.value, spans: quantity.stretches };
    columns.set(name, quantity.tS === tS ? quantity.value : valuesAt(column, tS));
  }
  return {
    name: step.name,
    sha256: step.sha256,
    tS,
    spans: stretches,
    columns,
    steps: Object.fromEntries(
      [...step.spans].map(([id, { startS, endS }]) => [id, [startS, endS] as const]),
    ),
    contactS: step.contactS,
  };
}
