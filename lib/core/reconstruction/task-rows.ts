/** Rows of a channel inside a stretch. */
import type { CheckedSource } from './data-quality';
import type { Origin } from './figure-of';

export const CONTROLLER_AXES = ['x', 'y', 'z', 'roll', 'pitch', 'yaw'] as const;

/** A controller at rest may flicker by this share of its full deflection. Our own choice. */
export const LEAST_DEFLECTION = 0.01;

export type Stretch = Readonly<{ fromS: number; toS: number }>;
export type Rows = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  origin: Origin;
  stepS: number;
}>;

/** A channel's rows with a value inside a stretch; null where no source has it. */
export function rowsOf(
  sources: readonly CheckedSource[],
  as: string,
  stretch: Stretch,
): Rows | null {
  for (const { source, tS, channels, stepS } of sources) {
    const found = channels.find(({ channel }) => channel.as === as)?.channel;
    if (found === undefined) continue;
    const rows = Array.from(tS.keys()).filter((row) => {
      const atS = tS[row] ?? Number.NaN;
      return atS >= stretch.fromS && atS <= stretch.toS && !Number.isNaN(found.values[row]);
    });
    // Another source may have the channel where this one has no sample of it.
    if (rows.length === 0) continue;
    const { file, sha256 } = source;
    return {
      tS: Float64Array.from(rows, (row) => tS[row] ?? Number.NaN),
      values: Float64Array.from(rows, (row) => found.values[row] ?? Number.NaN),
      origin: { sources: [{ file, sha256 }], channels: [found.name] },
      stepS,
    };
  }
  return null;
}

/** Rows over which an accumulated on-time grows: `from` the row before, `to` the last that grew. */
export function jetPulses(
  onTimeS: Float64Array,
): readonly Readonly<{ from: number; to: number }>[] {
  const pulses: { from: number; to: number }[] = [];
  let isOn = false;
  for (let row = 1; row < onTimeS.length; row++) {
    const grows = (onTimeS[row] ?? Number.NaN) > (onTimeS[row - 1] ?? Number.NaN);
    const last = pulses[pulses.length - 1];
    if (grows && isOn && last !== undefined) last.to = row;
    else if (grows) pulses.push({ from: row - 1, to: row });
    isOn = grows;
  }
  return pulses;
}
