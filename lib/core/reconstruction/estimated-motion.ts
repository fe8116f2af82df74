/** The motion of a session, with the source it comes from. */

import type { EvidenceSource } from '../figure';
import { estimateMotion } from '../motion/estimate-motion';
import type { MeasuredColumn } from '../motion/measured-motion';
import type { MotionEstimate } from '../motion/motion-estimate';
import { withStepErrors } from '../motion/step-error';
import type { StepPlace } from '../navigation/solution-step';
import { resampleLinear } from '../series/resample';
import type { Plan } from '../session/plan';
import { statedAccuracy } from './accuracy';
import type { CheckedSource } from './data-quality';
import type { Origin } from './figure-of';
import { BESIDE_S, joinSources } from './joined-source';
import { type Levelled, levelSteps } from './level-steps';
import { broughtRateSd, isElsewhere, referenceWords } from './source-reference';

/** Stated systematic half-widths (95 %), SI; `null` where the source states nothing. */
export type StatedMotionAccuracy = Readonly<{
  rangeM: number | null;
  rateMps: number | null;
  lateralM: number | null;
}>;

/**
 * The estimated motion; `source` is the one that shows it best, `parts` all it is estimated from, one after
 * another, that one among them, and `joins` the places where they meet.
 */
export type SessionMotion = Readonly<{
  motion: MotionEstimate;
  source: CheckedSource;
  parts: readonly CheckedSource[];
  joins: readonly StepPlace[];
  origin: Origin;
  stated: StatedMotionAccuracy;
}>;

const DEFAULT_HOLD_RATE_MPS = 0.02;

function columnsOf(source: CheckedSource, levelled: Levelled): ReadonlyMap<string, MeasuredColumn> {
  const columns = new Map<string, MeasuredColumn>();
  for (const { channel, rejected } of source.channels) {
    if (columns.has(channel.as)) continue;
    const values = levelled.values.get(channel.as) ?? channel.values;
    columns.set(channel.as, { name: channel.name, values, rejected });
  }
  return columns;
}

/** 2 for three position components, 1 for a range alone, 0 for neither. */
function rank(source: CheckedSource): number {
  const names = new Set(source.channels.map(({ channel }) => channel.as));
  if (['x', 'y', 'z'].every((axis) => names.has(`position.${axis}`))) return 2;
  return names.has('range') ? 1 : 0;
}

/**
 * Rates with the noise that the turns of an arm and of the axes bring into them. A turn of the axes moves
 * nothing along the line of sight, so the closing rate has only the arm's.
 */
function withTurnNoise(motion: MotionEstimate, source: CheckedSource): MotionEstimate {
  const { reference } = source;
  const armMps = reference?.rateSdMps ?? 0;
  if (armMps === 0 && (reference?.turnSdMps ?? null) === null) return motion;
  const alongMps = source.tS.map((_, row) => broughtRateSd(reference, 'x')(row));
  const known = resampleLinear(source.tS, alongMps, motion.tS, Number.POSITIVE_INFINITY);
  return {
    ...motion,
    closingSdMps: motion.closingSdMps.map((sd) => Math.hypot(sd, armMps)),
    axialClosingSdMps: motion.axialClosingSdMps.map((sd, row) =>
      Math.hypot(sd, known[row] ?? armMps),
    ),
  };
}

/** Methods that say which points they are of. */
function withWords(motion: MotionEstimate, words: string | null): MotionEstimate {
  if (words === null) return motion;
  return {
    ...motion,
    positionMethod: `${motion.positionMethod} ${words}`,
    rateMethod: `${motion.rateMethod} ${words}`,
  };
}

/** True where the rates of what is measured are measured too. */
export function measuresRate(source: CheckedSource): boolean {
  const names = new Set(source.channels.map(({ channel }) => channel.as));
  const rates =
    rank(source) === 2 ? ['x', 'y', 'z'].map((axis) => `velocity.${axis}`) : ['range_rate'];
  return rates.every((name) => names.has(name));
}

/** The source that shows the motion best; `null` where none shows position or range in two rows or more. */
function bestSource(sources: readonly CheckedSource[]): CheckedSource | null {
  const covers = ({ tS }: CheckedSource): number => (tS[tS.length - 1] ?? 0) - (tS[0] ?? 0);
  const moving = sources.filter(({ tS }) => tS.length > 1);
  const most = Math.max(...moving.map(rank));
  const shown = moving.filter((each) => most > 0 && rank(each) === most);
  const longestS = Math.max(...shown.map(covers));
  const long = shown.filter((each) => covers(each) >= longestS - BESIDE_S);
  const rated = long.filter(measuresRate);
  const [first, ...others] = rated.length > 0 ? rated : long;
  if (first === undefined) return null;
  return others.reduce((best, each) => (covers(each) > covers(best) ? each : best), first);
}

/** Files and channels behind the motion, and which points it is of. */
function originOf(
  motion: MotionEstimate,
  parts: readonly CheckedSource[],
  words: string | null,
): Origin {
  const used = parts.flatMap(({ reference }) => reference?.used ?? []);
  const files = new Map<string, EvidenceSource>();
  for (const { source } of parts) {
    files.set(source.file, { file: source.file, sha256: source.sha256 });
  }
  for (const of of used) files.set(of.file, { file: of.file, sha256: of.sha256 });
  const channels = [...new Set([...motion.channels, ...used.flatMap((of) => of.channels)])];
  return {
    sources: [...files.values()],
    channels: used.length === 0 ? motion.channels : channels,
    ...(words === null ? {} : { of: words }),
  };
}

/** The largest accuracy that any of the sources states; `null` where one states none. */
function widestAccuracy(parts: readonly CheckedSource[], names: readonly string[]): number | null {
  const stated = parts.map(({ source }) => statedAccuracy(source.declared, names));
  return stated.reduce((a, b) => (a === null || b === null ? null : Math.max(a, b)));
}

/**
 * Estimates the motion from the source that shows it best: three position components before a
 * range alone, then the one that covers most time, to 10 s, one that measures rates before one that
 * does not, then the first named. Sources of the same quantities that go on with it before or after are
 * joined to it (`joinSources`); where they meet, the position may step.
 *
 * @param sources telemetry sources on session time, checked
 * @param plan its hold rate and acceleration; `null` without one (a hold rate of 0.02 m/s is then supposed)
 * @returns the motion; `null` where no source shows position or range
 */
export function estimateSessionMotion(
  sources: readonly CheckedSource[],
  plan: Pick<Plan, 'holdRateMps' | 'accelerationMps2'> | null,
): SessionMotion | null {
  const best = bestSource(sources);
  if (best === null) return null;
  const joined = joinSources(best, sources);
  const { source, parts, joins } = joined;
  const levelled = levelSteps(joined, { accelerationMps2: plan?.accelerationMps2 ?? null });
  const estimated = estimateMotion({
    tS: source.tS,
    columns: columnsOf(source, levelled),
    longestStepS: source.longestStepS,
    stepS: source.stepS,
    holdRateMps: plan?.holdRateMps ?? DEFAULT_HOLD_RATE_MPS,
    accelerationMps2: plan?.accelerationMps2 ?? null,
  });
  if (estimated === null) return null;
  const levelledMotion = withStepErrors({ ...estimated, steps: levelled.moved });
  const words = referenceWords(best.reference);
  const motion = withWords(
    withTurnNoise({ ...levelledMotion, steps: [...estimated.steps, ...levelled.moved] }, source),
    words,
  );
  return {
    motion,
    source: best,
    parts,
    joins,
    origin: originOf(motion, parts, words),
    stated: {
      rangeM: widestAccuracy(parts, ['range', 'position.x']),
      rateMps: widestAccuracy(parts, ['range_rate', 'velocity.x']),
      lateralM: widestAccuracy(parts, ['position.y', 'position.z']),
    },
  };
}

/** The motion where it is that of the ports: only then does it show when they touch. */
export function motionOfPorts(session: SessionMotion | null): MotionEstimate | null {
  return session === null || isElsewhere(session.source.reference) ? null : session.motion;
}
