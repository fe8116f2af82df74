/** The noise of a source's positions and velocities, its slow part told apart. */
import { median } from '../math/statistics';
import type { ScaledColumn } from '../series/bend-cells';
import { overNeighbourNoise, type Samples, takeSamples, withParts } from '../series/samples';
import { noiseParts, type PairedColumns, pairedNoise } from '../series/slow-noise';
import type { MeasuredColumn } from './measured-motion';

/** One axis as measured; `velocity` is `undefined` where only the position is there. */
export type MeasuredAxis = Readonly<{
  position: MeasuredColumn;
  velocity: MeasuredColumn | undefined;
}>;

/** Its updates; `velocity` is `null` where it has to be derived. */
export type AxisSamples = Readonly<{
  name: string;
  position: Samples;
  velocity: Samples | null;
  /**
   * Position less the way travelled since the first row, m, where both were updated in each row; `null`
   * where that has to be formed. Whoever takes it may write on it.
   */
  offsetM: Float64Array | null;
}>;

/** Position samples less the way that the measured velocity travels, from update to update. */
function lessWay(position: Samples, velocity: Samples): Float64Array {
  const out = position.values.slice();
  let wayM = 0;
  let at = 0;
  for (let k = 0; k < out.length; k++) {
    const untilS = position.tS[k] ?? 0;
    while (at + 1 < velocity.tS.length && (velocity.tS[at + 1] ?? untilS) <= untilS) {
      const stepS = (velocity.tS[at + 1] ?? 0) - (velocity.tS[at] ?? 0);
      wayM += 0.5 * stepS * ((velocity.values[at] ?? 0) + (velocity.values[at + 1] ?? 0));
      at++;
    }
    out[k] = (out[k] ?? Number.NaN) - wayM;
  }
  return out;
}

function scaled(samples: Samples, values = samples.values): ScaledColumn {
  return { tS: samples.tS, values, sd: samples.sd, over: overNeighbourNoise(samples) };
}

/** What a velocity does not carry of its position is looked at over so long a time, s. */
const APART_S = 30;
const FEWEST_SPANS = 8;
/** So many times as far off as the axis that agrees best is another matter than noise. Our own choice. */
const FAR_OFF = 5;

/** Median size of what the position less its way changes by, in units of its noise; NaN where too short. */
function offBy({ offset: { tS, values, sd, over } }: PairedColumns): number {
  const off: number[] = [];
  let from = 0;
  for (let k = 1; k < tS.length; k++) {
    if ((tS[k] ?? 0) - (tS[from] ?? 0) < APART_S) continue;
    off.push(Math.abs((values[k] ?? Number.NaN) - (values[from] ?? 0)) / ((sd[k] ?? over) / over));
    from = k;
  }
  return off.length < FEWEST_SPANS ? Number.NaN : median(off);
}

/**
 * Which axes share a noise: all, but one whose velocity is not the rate of its position (other axes, a bias of
 * its own) stands alone, so that what it is off by is no noise of the others.
 *
 * @returns for each axis the indices of those it shares with, itself among them
 */
function sharingAxes(pairs: readonly PairedColumns[]): readonly (readonly number[])[] {
  const off = pairs.map(offBy);
  const least = Math.min(...off.filter(Number.isFinite));
  const isFar = off.map((each) => each > FAR_OFF * least);
  const together = pairs.flatMap((_, index) => (isFar[index] === true ? [] : [index]));
  return pairs.map((_, index) => (isFar[index] === true ? [index] : together));
}

/**
 * Takes the updates of one source's axes and parts their noise: with velocity beside the position free
 * of the motion, else from how the position bends. Axes of one source share the shape of their noise, but for
 * one whose velocity is not the rate of its position.
 *
 * @param tS times of the rows, s
 * @param axes one to three
 */
export function partNoise(tS: Float64Array, axes: readonly MeasuredAxis[]): readonly AxisSamples[] {
  const taken = axes.map(({ position, velocity }) => ({
    name: position.name,
    position: takeSamples(tS, position.values, position.rejected),
    velocity: velocity === undefined ? null : takeSamples(tS, velocity.values, velocity.rejected),
    offsetM: null,
  }));
  const first = taken[0];
  if (first === undefined || taken.some(({ position }) => position.tS.length < 2)) return taken;
  const pairs = taken.flatMap(({ position, velocity }): PairedColumns[] =>
    velocity === null || velocity.tS.length < 2
      ? []
      : [{ offset: scaled(position, lessWay(position, velocity)), velocity: scaled(velocity) }],
  );
  if (pairs.length < taken.length || first.velocity === null) {
    const parts = noiseParts(
      taken.map(({ position }) => scaled(position)),
      first.position.stepS,
    );
    return taken.map((axis) => ({ ...axis, position: withParts(axis.position, parts) }));
  }
  const steps = { position: first.position.stepS, velocity: first.velocity.stepS };
  const known = new Map<string, ReturnType<typeof pairedNoise>>();
  const sharing = sharingAxes(pairs);
  const isInEachRow = (index: number): boolean =>
    taken[index]?.position.tS === tS && taken[index].velocity?.tS === tS;
  return taken.map(({ name, position, velocity }, index) => {
    const group = sharing[index] ?? [];
    const key = group.join();
    const parts =
      known.get(key) ??
      pairedNoise(
        pairs.filter((_, at) => group.includes(at)),
        steps,
      );
    known.set(key, parts);
    return {
      name,
      position: withParts(position, parts.position),
      velocity: velocity === null ? null : withParts(velocity, parts.velocity),
      offsetM: isInEachRow(index) ? (pairs[index]?.offset.values ?? null) : null,
    };
  });
}
