/** How the hand controller was moved in a task, axis by axis, and what its jets did. */
import { controlActivity, cutOffFrequencyHz } from '../handling/control-activity';
import { welchSpectrum } from '../math/power-spectrum';
import { median } from '../math/statistics';
import { resampleLinear } from '../series/resample';
import type { CheckedSource } from './data-quality';
import { figureOf } from './figure-of';
import type { AxisActivity } from './handling';
import { releaseFigures } from './release-figures';
import {
  CONTROLLER_AXES,
  jetPulses,
  LEAST_DEFLECTION,
  type Rows,
  rowsOf,
  type Stretch,
} from './task-rows';

/** Pieces of the spectrum are at most this long, s: a hand's movements are quicker. */
const PIECE_S = 25.6;

/** The largest power of two that is not larger. */
function powerOfTwo(most: number): number {
  return 2 ** Math.max(1, Math.floor(Math.log2(Math.max(2, most))));
}

/** How far apart rows may be, of the step between them, before their spectrum would be of another signal. */
const EVEN = 0.01;
const LONGEST = 1.5;

type CutOff = Readonly<{ hz: number; how: string; reason?: string }>;

const CUT_OFF =
  'Frequency below which half of the deflection’s power lies (Welch, Hann, half overlap)';

/** Rows that are not even are brought to even times first, but never across a gap. */
export function cutOff({ tS, values, stepS }: Rows): CutOff {
  const steps = tS.subarray(1).map((atS, row) => atS - (tS[row] ?? Number.NaN));
  const longestS = steps.reduce((most, each) => Math.max(most, each), 0);
  if (longestS > LONGEST * stepS) {
    const reason = `Rows are up to ${longestS.toFixed(2)} s apart, ${stepS.toFixed(2)} s at the median: a spectrum would be one of another signal.`;
    return { hz: Number.NaN, how: `${CUT_OFF}.`, reason };
  }
  const hertz = (even: Float64Array): number =>
    cutOffFrequencyHz(welchSpectrum(even, 1 / stepS, powerOfTwo(PIECE_S / stepS)));
  if (steps.every((each) => Math.abs(each - stepS) <= EVEN * stepS))
    return { hz: hertz(values), how: `${CUT_OFF}.` };
  const [firstS = 0, lastS = firstS] = [tS[0], tS.at(-1)];
  const count = Math.floor((lastS - firstS) / stepS) + 1;
  const evenS = Float64Array.from({ length: count }, (_, k) => firstS + k * stepS);
  const even = resampleLinear(tS, values, evenS, LONGEST * stepS).filter(
    (value) => !Number.isNaN(value),
  );
  return { hz: hertz(even), how: `${CUT_OFF}; rows are not even and were brought to even times.` };
}

/** Times that jets came on, and the share of time they were on, from accumulated on-time. */
function jetFigures(
  rows: Rows | null,
  stretch: Stretch,
): Pick<AxisActivity, 'firings' | 'jetDuty'> {
  if (rows === null || rows.tS.length < 2) return { firings: null, jetDuty: null };
  const { tS, values, origin } = rows;
  const firings = jetPulses(values).length;
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
  const columns = CONTROLLER_AXES.flatMap(
    (axis) => rowsOf(sources, `hand_controller.${axis}`, stretch) ?? [],
  );
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
  return CONTROLLER_AXES.flatMap((axis): AxisActivity[] => {
    const rows = rowsOf(sources, `hand_controller.${axis}`, stretch);
    if (rows === null || rows.values.length < 2) return [];
    const { changes, duty, aggressiveness } = controlActivity(rows.values, 0);
    if (changes === 0) return [];
    const spectrum = cutOff(rows);
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
        cutOffHz: figureOf(rows.origin, {
          value: spectrum.hz,
          unit: 'Hz',
          random: null,
          method: spectrum.how,
          ...(spectrum.reason === undefined ? {} : { reason: spectrum.reason }),
          ...stretch,
        }),
        ...releaseFigures(sources, axis, stretch),
        ...jetFigures(rowsOf(sources, `jet_on_time.${axis}`, stretch), stretch),
      },
    ];
  });
}
