/** How much later the flight does what a run does, over the time of the step compared. */
import { type Lag, lagBetween } from '../compare/lag';
import { placeInstants, type Track, valuesAtPlaces } from '../compare/track';
import { median } from '../math/statistics';
import type { CompareTracks } from './compare-tracks';

/** Largest lag looked for, s, and samples of a column. Our own choices. */
const REACH_S = 30;
const MOST_SAMPLES = 1500;

function stepOf({ tS }: Track): number {
  return median(tS.subarray(1).map((atS, row) => atS - (tS[row] ?? Number.NaN)));
}

/** A column over the step, at even times since its start. */
function fromStart(
  track: Track,
  name: string,
  atS: Float64Array,
  step: string,
): Float64Array | null {
  const span = track.steps[step];
  const values = track.columns.get(name);
  if (span === undefined || values === undefined) return null;
  const times = atS.map((each) => (span[0] + each <= span[1] ? span[0] + each : Number.NaN));
  return valuesAtPlaces(values, placeInstants(track, times));
}

/** @returns the lag of a quantity against the run; null where one of both lacks it */
export function lagFinder(
  { flight, pass }: CompareTracks,
  run: Track | null,
): (name: string) => Lag | null {
  const span = flight.steps[pass.step];
  if (run === null || span === undefined) return () => null;
  const lengthS = span[1] - span[0];
  const stepS = Math.max(stepOf(flight), stepOf(run), lengthS / MOST_SAMPLES);
  const atS = Float64Array.from({ length: Math.floor(lengthS / stepS) + 1 }, (_, k) => k * stepS);
  return (name) => {
    const flown = fromStart(flight, name, atS, pass.step);
    const simulated = fromStart(run, name, atS, pass.step);
    if (flown === null || simulated === null) return null;
    return lagBetween(flown, simulated, { stepS, reachS: Math.min(REACH_S, lengthS / 4) });
  };
}
