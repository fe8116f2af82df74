/** Residual rate after release and cross-coupling of one hand controller axis in a task. */
import {
  crossCoupling,
  type Deflection,
  deflections,
  meanBetween,
  rmsOf,
} from '../handling/after-release';
import { median } from '../math/statistics';
import type { CheckedSource } from './data-quality';
import { figureOf } from './figure-of';
import type { AxisActivity } from './handling';
import { CONTROLLER_AXES, LEAST_DEFLECTION, type Rows, rowsOf, type Stretch } from './task-rows';

/** A release counts when the controller then rests this long, s; the rate is its mean over that time. Our own choice. */
const RESTS_S = 2;
/** The rate before an input is its mean over this time, s. Our own choice. */
const BEFORE_S = 1;

type ReleaseFigures = Pick<AxisActivity, 'residualRate' | 'coupling'>;
const NOTHING: ReleaseFigures = { residualRate: null, coupling: null };

/** Axes that could take a movement up: the three of the same kind. */
function kindOf(axis: string): readonly string[] {
  return ['x', 'y', 'z'].includes(axis) ? ['x', 'y', 'z'] : ['roll', 'pitch', 'yaw'];
}

function rateName(axis: string): string {
  return ['x', 'y', 'z'].includes(axis) ? `velocity.${axis}` : `body_rate.${axis}`;
}

/** Deflections after which this controller, and in which all others, rest. */
function cleanInputs(
  rows: Rows,
  others: readonly Rows[],
): readonly Readonly<{ fromS: number; toS: number }>[] {
  const { tS, values } = rows;
  const timeOf = (row: number): number => tS[row] ?? Number.NaN;
  const all: readonly Deflection[] = deflections(values, median(values), LEAST_DEFLECTION);
  return all.flatMap(({ from, to }, index) => {
    const [fromS, toS] = [timeOf(from), timeOf(to)];
    const next = all[index + 1];
    const nextS = next === undefined ? timeOf(tS.length - 1) : timeOf(next.from);
    if (!(nextS - toS >= RESTS_S)) return [];
    const isAlone = others.every((other) => {
      const rest = median(other.values);
      return other.values.every((value, row) => {
        const atS = other.tS[row] ?? Number.NaN;
        return atS < fromS || atS > toS + RESTS_S || Math.abs(value - rest) <= LEAST_DEFLECTION;
      });
    });
    return isAlone ? [{ fromS, toS }] : [];
  });
}

/** @returns null figures where no rate of the axis is recorded, or no input stands by itself */
export function releaseFigures(
  sources: readonly CheckedSource[],
  axis: string,
  stretch: Stretch,
): ReleaseFigures {
  const rows = rowsOf(sources, `hand_controller.${axis}`, stretch);
  const own = rowsOf(sources, rateName(axis), stretch);
  if (rows === null || own === null) return NOTHING;
  const others = CONTROLLER_AXES.flatMap((other) =>
    other === axis ? [] : (rowsOf(sources, `hand_controller.${other}`, stretch) ?? []),
  );
  const inputs = cleanInputs(rows, others);
  if (inputs.length === 0) return NOTHING;
  const after = ({ tS, values }: Rows) =>
    inputs.map(({ toS }) => meanBetween(tS, values, toS, toS + RESTS_S));
  const changes = (rate: Rows) =>
    after(rate).map((then, index) => {
      const fromS = inputs[index]?.fromS ?? Number.NaN;
      return then - meanBetween(rate.tS, rate.values, fromS - BEFORE_S, fromS);
    });
  const unit = ['x', 'y', 'z'].includes(axis) ? 'm/s' : 'rad/s';
  const along = changes(own);
  const astray = kindOf(axis).flatMap((other) => {
    const rate = other === axis ? null : rowsOf(sources, rateName(other), stretch);
    return rate === null ? [] : [{ other, share: crossCoupling(along, changes(rate)) }];
  });
  const most = astray.reduce<(typeof astray)[number] | null>(
    (found, each) => (found === null || each.share > found.share ? each : found),
    null,
  );
  const count = `${inputs.length} inputs after which the controller rests ${RESTS_S} s and no other is moved`;
  return {
    residualRate: figureOf(own.origin, {
      value: rmsOf(after(own)),
      unit,
      random: null,
      method: `Mean rate over the ${RESTS_S} s after release, root mean square over ${count}.`,
      ...stretch,
    }),
    coupling:
      most === null
        ? null
        : figureOf(own.origin, {
            value: most.share,
            unit: '1',
            random: null,
            method: `Changes of rate along ${most.other} over those along ${axis}, sums of sizes over ${count}; the noise of the rates is in it.`,
            ...stretch,
          }),
  };
}
