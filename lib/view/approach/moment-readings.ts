/** What is read at a moment of the approach: from the estimated motion, the plan and the corridor. */
import { corridorsOf, tightestCorridor } from '../../core/approach/stations';
import { planClock, rateGoal } from '../../core/approach/time-to-go';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { type ApproachTrack, middleAt, middles } from './approach-track';
import { type MomentView, type Reading, roundedValues } from './moment';

/** The tightest corridor's radius at each part, m; NaN where none applies. */
export function corridorAlong(reconstruction: Reconstruction, track: ApproachTrack): Float64Array {
  const rules = corridorsOf(reconstruction.ruleSet);
  return track.tS.map((_, part) => {
    const rangeM = middleAt(track, 'range', part);
    const axialM = middleAt(track, 'axial_distance', part);
    return tightestCorridor(rules, rangeM, axialM)?.radiusM ?? Number.NaN;
  });
}

/** Time to go by plan at each part, s. */
function toGoByPlan({ plan, phases }: Reconstruction, track: ApproachTrack): Float64Array {
  if (plan === null) return track.tS.map(() => Number.NaN);
  const clock = planClock(plan);
  const index = new Map(plan.steps.map((step, at) => [step.id, at]));
  return track.tS.map((atS, part) => {
    const begun = phases.filter(
      ({ startS, step }) => step !== null && (startS.value ?? Infinity) <= atS,
    );
    const step = begun.at(-1)?.step ?? null;
    const startS = begun.find((phase) => phase.step === step)?.startS.value ?? null;
    const stepIndex = index.get(step ?? '');
    if (stepIndex === undefined || startS === null) return Number.NaN;
    return clock({ stepIndex, sinceS: atS - startS, rangeM: middleAt(track, 'range', part) });
  });
}

/** Time to go by the rate, s: NaN where the goal does not come nearer by more than the plan's hold rate. */
function toGoByRate({ plan }: Reconstruction, track: ApproachTrack): Float64Array {
  const leastMps = plan?.holdRateMps ?? 0.02;
  const goal = rateGoal(plan);
  return track.tS.map((_, part) => {
    const isAway = goal.kind === 'away';
    const rate = isAway
      ? -middleAt(track, 'closing_rate', part)
      : middleAt(track, 'axial_closing_rate', part);
    const leftM = isAway
      ? goal.rangeM - middleAt(track, 'range', part)
      : middleAt(track, 'axial_distance', part) - goal.axialM;
    return rate > leastMps && !(isAway && leftM < 0) ? leftM / rate : Number.NaN;
  });
}

/** Readings at each part; those that the session does not have are left out. */
export function momentView(reconstruction: Reconstruction, track: ApproachTrack): MomentView {
  const corridor = corridorAlong(reconstruction, track);
  const lateral = middles(track, 'lateral_offset');
  const metres = (label: string, values: Float64Array, form: Reading['form'] = 'number') => ({
    label,
    unit: 'm',
    form,
    decimals: 2,
    values: roundedValues(values, 2),
  });
  const rate = (label: string, values: Float64Array) => ({
    label,
    unit: 'm/s',
    form: 'signed' as const,
    decimals: 3,
    values: roundedValues(values, 3),
  });
  const time = (label: string, values: Float64Array) => ({
    label,
    unit: 's',
    form: 'duration' as const,
    decimals: 0,
    values: roundedValues(values, 0),
  });
  const readings: readonly Reading[] = [
    metres('range', middles(track, 'range')),
    metres('along the axis', middles(track, 'axial_distance')),
    metres('y', middles(track, 'offset_y'), 'signed'),
    metres('z', middles(track, 'offset_z'), 'signed'),
    metres('off the axis', lateral),
    metres(
      'clearance',
      corridor.map((radiusM, part) => radiusM - (lateral[part] ?? Number.NaN)),
      'signed',
    ),
    rate('closing', middles(track, 'closing_rate')),
    rate('planned', middles(track, 'planned_closing_rate')),
    time('to go by plan', toGoByPlan(reconstruction, track)),
    time('to go by rate', toGoByRate(reconstruction, track)),
  ];
  const first = track.tS[0] ?? 0;
  const last = track.tS[track.tS.length - 1] ?? first;
  const parts = track.tS.length;
  const partS = parts > 1 ? (last - first) / (parts - 1) : 1;
  return {
    fromS: first - partS / 2,
    partS,
    parts,
    readings: readings.filter(({ values }) => values.some((value) => value !== null)),
  };
}
