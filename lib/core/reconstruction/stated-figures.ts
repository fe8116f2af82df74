/** What the plan and the rules state, as figures: a stated number opens the file that states it. */
import { corridorsOf } from '../approach/stations';
import { type EvidenceSource, type Figure, halfWidth95 } from '../figure';
import { profileAt } from '../math/search';
import { nameFromId } from '../session/name-from-id';
import type { MoveStep } from '../session/plan';
import type { ApproachDeviation, ApproachStation } from './approach-report';
import type { CaptureStageResult } from './contact-report';
import { figureOf } from './figure-of';
import type { Reconstruction, StepResult } from './reconstruction';

type RateProfile = MoveStep['closingRateMps'];
type Stated = Readonly<{ value: number; unit: string; method: string }>;

/** A number as written: exact, out of the one file that states it; no file in older reconstructions. */
function statedFigure(file: EvidenceSource | undefined, { value, unit, method }: Stated): Figure {
  const origin = { sources: file === undefined ? [] : [file], channels: [] };
  return figureOf(origin, { value, unit, random: 0, systematic: 0, method });
}

/** How long a step is planned to last, s. */
export function plannedLength(
  { planFile }: Reconstruction,
  { id, plannedS }: Pick<StepResult, 'id' | 'plannedS'>,
): Figure {
  return statedFigure(planFile, {
    value: plannedS,
    unit: 's',
    method: `Length that the plan states for the step ${nameFromId(id)}.`,
  });
}

/** How far a rate may be off the profile of a step, m/s; null where the plan has no such move. */
export function plannedTolerance({ plan, planFile }: Reconstruction, id: string): Figure | null {
  const step = plan?.steps.find((one) => one.id === id);
  if (step?.kind !== 'move') return null;
  return statedFigure(planFile, {
    value: step.toleranceMps,
    unit: 'm/s',
    method: `Tolerance that the plan states for the rate of the step ${nameFromId(id)}.`,
  });
}

function profileOf({ plan }: Reconstruction, id: string | null | undefined): RateProfile {
  const step = plan?.steps.find((one) => one.id === id);
  return step?.kind === 'move' ? step.closingRateMps : [];
}

/** The profile of the step being flown at an instant: the last one begun by then. */
function profileAtTime(reconstruction: Reconstruction, atS: number): RateProfile {
  const begun = reconstruction.phases.filter(
    ({ step, startS }) => step !== null && (startS.value ?? Infinity) <= atS + 1e-6,
  );
  return profileOf(reconstruction, begun.at(-1)?.step);
}

/** How far the profile moves within a half-width of a range, m/s, to the side where it moves more. */
function spreadOf(profile: RateProfile, rangeM: number, halfM: number | null): number | null {
  if (halfM === null) return null;
  const at = profileAt(profile, rangeM);
  return Math.max(
    ...[-halfM, halfM].map((offM) => Math.abs(profileAt(profile, rangeM + offM) - at)),
  );
}

/**
 * The rate that the plan's profile asks for at a station, m/s; null outside planned moves.
 *
 * Exact where the profile is level within the range's interval; elsewhere as unsure as that range makes it.
 */
export function plannedRateThere(
  reconstruction: Reconstruction,
  { plannedMps, rangeM, timeS }: ApproachStation,
): Figure | null {
  if (plannedMps === null) return null;
  const { planFile } = reconstruction;
  const method = `Profile of the step being flown, read at a range of ${rangeM.value?.toFixed(2) ?? 'no'} m: straight between the points of the plan.`;
  const stated = { value: plannedMps, unit: 'm/s', method };
  const profile = profileAtTime(reconstruction, timeS.value ?? Number.NaN);
  const spread = (halfM: number | null | undefined): number | null =>
    spreadOf(profile, rangeM.value ?? Number.NaN, halfM ?? null);
  if (spread(halfWidth95(rangeM)) === 0) return statedFigure(planFile, stated);
  const { sources, channels, fromS, toS } = rangeM.evidence;
  return figureOf(
    { sources: [...sources, ...(planFile === undefined ? [] : [planFile])], channels },
    {
      ...stated,
      random: spread(rangeM.uncertainty?.random),
      systematic: spread(rangeM.uncertainty?.systematic),
      method: `${method} As unsure as the range at which it is read.`,
      fromS,
      toS,
    },
  );
}

/** Mean of the planned rate between two ranges, m/s; how unsure is not known where the profile slopes. */
export function plannedRateBetween(
  reconstruction: Reconstruction,
  { step, fromM, toM, plannedMps }: ApproachDeviation,
): Figure {
  const method = `Profile of the step ${nameFromId(step)} at the ranges flown from ${fromM.toFixed(1)} to ${toM.toFixed(1)} m: mean over time.`;
  const figure = statedFigure(reconstruction.planFile, {
    value: plannedMps,
    unit: 'm/s',
    method,
  });
  const profile = profileOf(reconstruction, step);
  const between = profile.filter(([m]) => m > Math.min(fromM, toM) && m < Math.max(fromM, toM));
  const rates = [fromM, toM].map((m) => profileAt(profile, m));
  const isLevel = [...rates, ...between.map(([, rate]) => rate)].every((rate) => rate === rates[0]);
  if (isLevel) return figure;
  return {
    ...figure,
    uncertainty: null,
    method: `${method} What the ranges are unsure by is not worked out for it.`,
  };
}

/**
 * How far from the docking axis the tightest rule lets the vehicle be at a station, m.
 *
 * @returns null where no rule bounds it there. Of a cone its half-width is that of the axial
 *   distance at which it is read, times the slope
 */
export function corridorThere(
  { ruleSet, rulesFile }: Reconstruction,
  { corridor, axialM }: ApproachStation,
): Figure | null {
  if (corridor === null) return null;
  const { rule, radiusM } = corridor;
  const limit = corridorsOf(ruleSet).find((each) => each.rule === rule)?.limit;
  const isCone = limit?.kind === 'cone' && radiusM > limit.floorM;
  const slope = isCone ? Math.tan(limit.halfAngleRad) : 0;
  const half = halfWidth95(axialM);
  const sources = [...axialM.evidence.sources, ...(rulesFile === undefined ? [] : [rulesFile])];
  const at = { fromS: axialM.evidence.fromS, toS: axialM.evidence.toS };
  const method = isCone
    ? `Distance from the docking axis that the cone of rule ${rule} allows at this axial distance.`
    : `Distance from the docking axis that rule ${rule} allows here.`;
  return figureOf(
    { sources: isCone ? sources : sources.slice(axialM.evidence.sources.length), channels: [] },
    {
      value: radiusM,
      unit: 'm',
      random: isCone ? (half === null ? null : slope * half) : 0,
      systematic: 0,
      method,
      ...(isCone ? at : {}),
    },
  );
}

/** When a stage of capture is planned, s after first touch; null where no time is. */
export function plannedStage(
  { planFile }: Reconstruction,
  { stage, plannedS, toleranceS }: CaptureStageResult,
): Figure | null {
  if (plannedS === null) return null;
  const room = toleranceS === null ? '' : `, give or take ${toleranceS} s`;
  return statedFigure(planFile, {
    value: plannedS,
    unit: 's',
    method: `Time after first touch that the plan states for ${nameFromId(stage).toLowerCase()}${room}.`,
  });
}
