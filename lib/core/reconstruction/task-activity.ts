/** How the hand controller was moved in a task, axis by axis, and what its jets did. */
import { controlActivity, cutOffFrequencyHz } from '../handling/control-activity';
import { welchSpectrum } from '../math/power-spectrum';
import { median } from '../math/statistics';
import type { CheckedSource } from './data-quality';
import { figureOf, type Origin } from './figure-of';
import type { AxisActivity } from './handling';

const AXES = ['x', 'y', 'z', 'roll', 'pitch', 'yaw'] as const;

/** Pieces of the spectrum are at most this long, s: a hand's movements are quicker. */
const PIECE_S = 25.6;

/** A controller at rest may flicker by this share of its full deflection. Our own choice. */
const LEAST_DEFLECTION = 0.01;

type Stretch = Readonly<{ fromS: number; toS: number }>;
type Rows = Readonly<{ tS: Float64Array; values: Float64Array; origin: Origin; stepS: number }>;

/** A channel's rows with a value inside a stretch; null where no source has it. */
function rowsOf(sources: readonly CheckedSource[], as: string, stretch: Stretch): Rows | null {
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

/** The largest power of two that is not larger. */
function powerOfTwo(most: number): number {
  return 2 ** Math.max(1, Math.floor(Math.log2(Math.max(2, most))));
}

function cutOff({ tS, values, stepS }: Rows): number {
  const steps = tS.subarray(1).map((atS, row) => atS - (tS[row] ?? Number.NaN));
  // A spectrum of uneven rows would be one of another signal.
  if (steps.some((each) => Math.abs(each - stepS) > 0.01 * stepS)) return Number.NaN;
  const spectrum = welchSpectrum(values, 1 / stepS, powerOfTwo(PIECE_S / stepS));
  return cutOffFrequencyHz(spectrum);
}

/** Times that jets came on, and the share of time they were on, from accumulated on-time. */
function jetFigures(
  rows: Rows | null,
  stretch: Stretch,
): Pick<AxisActivity, 'firings' | 'jetDuty'> {
  if (rows === null || rows.tS.length < 2) return { firings: null, jetDuty: null };
  const { tS, values, origin } = rows;
  let firings = 0;
  let wasOn = false;
  for (const [row, value] of values.entries()) {
    const isOn = row > 0 && value > (values[row - 1] ?? value);
    if (isOn && !wasOn) firings++;
    wasOn = isOn;
  }
  const onS = (values[values.length - 1] ?? Number.NaN) - (values[0] ?? Number.NaN);
  const timeS = (tS[tS.length - 1] ?? Number.NaN) - (tS[0] ?? Number.NaN);
  return {
    firings: figureOf(origin, {
      value: firings,
      unit: '1',
      random: null,
      method: 'Runs of rows over which the accumulated on-time grows.',
      ...stretch,
    }),
    jetDuty: figureOf(origin, {
      value: onS / timeS,
      unit: '1',
      random: null,
      method: 'Growth of the accumulated on-time over the time of the task.',
      ...stretch,
    }),
  };
}

/** Whether a hand controller was moved inside a stretch. */
export function pilotInLoop(
  sources: readonly CheckedSource[],
  stretch: Stretch,
): 'moved' | 'at rest' | 'not recorded' {
  const columns = AXES.flatMap((axis) => rowsOf(sources, `hand_controller.${axis}`, stretch) ?? []);
  if (columns.length === 0) return 'not recorded';
  const isMoved = columns.some(({ values }) => {
    const rest = median(values);
    return values.some((each) => Math.abs(each - rest) > LEAST_DEFLECTION);
  });
  return isMoved ? 'moved' : 'at rest';
}

/** One entry for each hand controller axis that was moved in a stretch. */
export function taskActivity(
  sources: readonly CheckedSource[],
  stretch: Stretch,
): readonly AxisActivity[] {
  return AXES.flatMap((axis): AxisActivity[] => {
    const rows = rowsOf(sources, `hand_controller.${axis}`, stretch);
    if (rows === null || rows.values.length < 2) return [];
    const { changes, duty, aggressiveness } = controlActivity(rows.values, 0);
    if (changes === 0) return [];
    const figure = (value: number, unit: string, method: string) =>
      figureOf(rows.origin, { value, unit, random: null, method, ...stretch });
    return [
      {
        axis,
        duty: figure(duty, '1', 'Rows at which the deflection changed, over all rows.'),
        aggressiveness: figure(
          aggressiveness,
          '1',
          'Root mean square change of the deflection from row to row, over the pairs of rows.',
        ),
        cutOffHz: figure(
          cutOff(rows),
          'Hz',
          'Frequency below which half of the deflection’s power lies (Welch, Hann, half overlap).',
        ),
        ...jetFigures(rowsOf(sources, `jet_on_time.${axis}`, stretch), stretch),
      },
    ];
  });
}
