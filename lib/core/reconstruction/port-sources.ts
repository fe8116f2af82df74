/** Telemetry brought to the docking ports and into turning axes, before anything is computed from it. */

import { rotationsAt, turnedBack, turnedBoth } from '../navigation/attitude-track';
import { intoTurningAxes } from '../navigation/inertial-velocity';
import { type PointMotion, type PortGeometry, toPorts } from '../navigation/to-ports';
import { resampleLinear } from '../series/resample';
import {
  betweenWords,
  isAtPort,
  isBetweenPorts,
  type MeasuredPoint,
  type Vector,
} from '../session/measured-points';
import { type AttitudeOf, attitudeOf, type FoundAttitude } from './attitude-of';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { SourceReference } from './source-reference';

const AXES = ['x', 'y', 'z'] as const;

/** The three columns of a stem, or null. */
function three(source: CheckedSource, stem: string): readonly CheckedChannel[] | null {
  const found = AXES.flatMap(
    (axis) => source.channels.find(({ channel }) => channel.as === `${stem}.${axis}`) ?? [],
  );
  return found.length === 3 ? found : null;
}

/** Values without the rejected ones, straight across them and held at the ends: only for n r of them. */
function filled(source: CheckedSource, { channel, rejected }: CheckedChannel): Float64Array {
  const known = channel.values.map((value, row) =>
    rejected !== null && rejected[row] !== 0 ? Number.NaN : value,
  );
  const out = resampleLinear(source.tS, known, source.tS, Number.POSITIVE_INFINITY);
  let last = known.find((value) => !Number.isNaN(value)) ?? Number.NaN;
  return out.map((value) => {
    if (!Number.isNaN(value)) last = value;
    return last;
  });
}

/** The source with other values under the same columns; `mixed` where each comes from all three. */
function withColumns(
  source: CheckedSource,
  replaced: ReadonlyMap<CheckedChannel, CheckedChannel>,
): CheckedSource {
  return { ...source, channels: source.channels.map((each) => replaced.get(each) ?? each) };
}

function replace(
  columns: readonly CheckedChannel[],
  values: readonly Float64Array[],
  rejected: 'as before' | 'of any',
): readonly (readonly [CheckedChannel, CheckedChannel])[] {
  const masks = columns.flatMap((each) => (each.rejected === null ? [] : [each.rejected]));
  const any =
    masks.length === 0
      ? null
      : (masks[0]?.map((_, row) => (masks.some((mask) => mask[row] !== 0) ? 1 : 0)) ?? null);
  return columns.map((each, axis) => [
    each,
    {
      ...each,
      channel: { ...each.channel, values: values[axis] ?? each.channel.values },
      rejected: rejected === 'of any' ? any : each.rejected,
    },
  ]);
}

/** An inertial velocity as the rate of the position, where the orbit is stated. */
function turned(source: CheckedSource): CheckedSource {
  const { velocityFrame, orbit } = source.source.declared;
  const [position, velocity] = [three(source, 'position'), three(source, 'velocity')];
  if (velocityFrame !== 'inertial' || orbit === undefined) return source;
  if (position === null || velocity === null) return source;
  const [x, y, z] = orbit.normal;
  const turn: Vector = [x * orbit.rateRadPerS, y * orbit.rateRadPerS, z * orbit.rateRadPerS];
  const values = intoTurningAxes(
    position.map((each) => filled(source, each)),
    velocity.map(({ channel }) => channel.values),
    turn,
  );
  return withColumns(source, new Map(replace(velocity, values, 'as before')));
}

type Needed = Readonly<{ geometry: PortGeometry; used: readonly FoundAttitude[] }>;

const PORT: MeasuredPoint = { name: 'port', isPort: true, toPortM: null };
const NO_ARM: Vector = [0, 0, 0];

function armOf({ isPort, toPortM }: MeasuredPoint): Vector {
  return isPort ? NO_ARM : (toPortM ?? NO_ARM);
}

/** What brings a source to the ports; in words what is missing for it. */
function geometryOf(source: CheckedSource, sources: readonly CheckedSource[]): Needed | string {
  const { between, axes } = source.source.declared;
  const { vehicle, target } = between ?? { vehicle: PORT, target: PORT };
  const unknown = [vehicle, target].find((point) => !point.isPort && point.toPortM === null);
  if (unknown !== undefined)
    return `session.yaml does not say where the port lies from the ${unknown.name}`;
  const turnsAxes = axes === 'orbit';
  const turnsArm = !isAtPort(vehicle);
  const find = (stem: AttitudeOf) => attitudeOf(stem, source, sources);
  const relative = turnsArm ? find('relative_attitude') : null;
  const own = turnsArm && relative === null ? find('attitude') : null;
  const needsOwn = turnsArm && relative === null;
  const of = turnsAxes || needsOwn ? find('target_attitude') : null;
  const missing = [
    ...(needsOwn && own === null ? ['vehicle'] : []),
    ...((turnsAxes || needsOwn) && of === null ? ['target'] : []),
  ];
  if (missing.length === 2) return 'neither attitude is recorded';
  if (missing.length === 1) return `the attitude of the ${missing[0]} is not recorded`;
  const rotations = ({ track }: FoundAttitude) =>
    rotationsAt(track, source.tS, source.longestStepS);
  const fromTarget = of === null ? null : turnedBack(rotations(of));
  const used = [relative, own, of].filter((one) => one !== null);
  const vehicleInTarget =
    relative !== null
      ? rotations(relative)
      : own !== null && fromTarget !== null
        ? turnedBoth(fromTarget, rotations(own))
        : null;
  const geometry: PortGeometry = {
    targetFrom: turnsAxes ? fromTarget : null,
    vehicleInTarget,
    vehicleArmM: armOf(vehicle),
    targetArmM: armOf(target),
    attitudeStepS: Math.max(0, ...used.map(({ track }) => track.stepS)),
  };
  return { geometry, used };
}

function carried(source: CheckedSource, { geometry }: Needed) {
  const position = three(source, 'position');
  const velocity = three(source, 'velocity');
  if (position === null) return null;
  const isMixed = geometry.targetFrom !== null;
  const motion: PointMotion = {
    tS: source.tS,
    positionM: position.map(({ channel }) => channel.values),
    velocityMps: velocity?.map(({ channel }) => channel.values) ?? null,
    longestStepS: source.longestStepS,
  };
  const ports = toPorts(motion, geometry);
  const mask = isMixed ? 'of any' : 'as before';
  return {
    rateSdMps: ports.rateSdMps,
    turnSdMps: ports.turnSdMps,
    columns: new Map([
      ...replace(position, ports.positionM, mask),
      ...(velocity === null || ports.velocityMps === null
        ? []
        : replace(velocity, ports.velocityMps, mask)),
    ]),
  };
}

function velocityOf(source: CheckedSource): SourceReference['velocity'] {
  const { velocityFrame, orbit } = source.source.declared;
  if (velocityFrame !== 'inertial') return 'as given';
  const isWhole = three(source, 'position') !== null && three(source, 'velocity') !== null;
  return orbit !== undefined && isWhole ? 'turned' : 'inertial';
}

function bringOne(source: CheckedSource, sources: readonly CheckedSource[]): CheckedSource {
  const { between, axes } = source.source.declared;
  const velocity = velocityOf(source);
  const base = { velocity, rateSdMps: 0, turnSdMps: null, used: [] };
  const inAxes = turned(source);
  if (between === undefined && axes === undefined)
    return { ...inAxes, reference: { ...base, points: 'assumed', label: null, why: null } };
  const isThere = between === undefined || isBetweenPorts(between);
  if (isThere && axes === undefined)
    return { ...inAxes, reference: { ...base, points: 'ports', label: null, why: null } };
  const points = between === undefined ? 'port to port' : betweenWords(between);
  const label = isThere ? `${points}, in axes of the orbit` : points;
  const needed = geometryOf(inAxes, sources);
  const done = typeof needed === 'string' ? null : carried(inAxes, needed);
  if (done === null || typeof needed === 'string') {
    const why = typeof needed === 'string' ? needed : 'it has no position in three components';
    return { ...inAxes, reference: { ...base, points: 'elsewhere', label, why } };
  }
  const used = needed.used.map(({ source: of, channels }) => ({
    file: of.source.file,
    sha256: of.source.sha256,
    channels,
  }));
  const { rateSdMps, turnSdMps } = done;
  const reference: SourceReference = {
    points: 'brought',
    label,
    why: null,
    velocity,
    rateSdMps,
    turnSdMps,
    used,
  };
  return { ...withColumns(inAxes, done.columns), reference };
}

/**
 * Every source with its position and velocity at the docking ports, in the axes of the target's port,
 * as the session file states what they are between and taken in. What is not stated stays untouched.
 *
 * @param sources telemetry on session time, checked as recorded
 * @returns the same sources with a reference each: at the ports, assumed there, brought, or elsewhere
 */
export function bringToPorts(sources: readonly CheckedSource[]): readonly CheckedSource[] {
  return sources.map((source) => bringOne(source, sources));
}
