/** `points`, `lever_arm_m`, `axes` and `orbit` of a telemetry source. */
import { meanMotionRadPerS } from './mean-motion';
import {
  betweenWords,
  type MeasuredBetween,
  type MeasuredPoint,
  type OrbitTurn,
  type Vector,
} from './measured-points';
import type { Report } from './schema-issues';
import type { TelemetryDeclaration } from './session-input';
import type { TelemetryData } from './session-schema';
import type { KeyPath } from './yaml-text';

const PORT = /\bports?\b/i;
const PORT_POINT: MeasuredPoint = { name: 'port', isPort: true, toPortM: null };

function vectorOf([x = 0, y = 0, z = 0]: readonly number[]): Vector {
  return [x, y, z];
}

type Points = Exclude<NonNullable<TelemetryData['points']>, string>;

function pointOf(data: Points['from']): MeasuredPoint {
  if (typeof data === 'string') return { name: data, isPort: PORT.test(data), toPortM: null };
  const isPort = data.is === 'port';
  const toPortM = data.to_port_m === undefined ? null : vectorOf(data.to_port_m);
  return { name: data.name ?? data.is, isPort: isPort && toPortM === null, toPortM };
}

/** Both ends from a text: `A to B`, else one name for what is measured. */
function ofText(text: string): MeasuredBetween {
  const [from, to, ...more] = text.split(/\s+to\s+/i);
  if (from !== undefined && to !== undefined && more.length === 0)
    return { vehicle: pointOf(from), target: pointOf(to) };
  return { vehicle: pointOf(text), target: PORT_POINT };
}

function armOf(data: TelemetryData): Vector | null {
  const arm = data.lever_arm_m;
  return arm === undefined ? null : typeof arm === 'number' ? [arm, 0, 0] : vectorOf(arm);
}

/** Both ends; null where neither points nor a lever arm is stated. */
function readBetween(data: TelemetryData): MeasuredBetween | null {
  const { points } = data;
  const arm = armOf(data);
  if (points === undefined) {
    if (arm === null) return null;
    const vehicle = { name: 'reference point', isPort: false, toPortM: arm };
    return { vehicle, target: PORT_POINT };
  }
  const stated =
    typeof points === 'string'
      ? ofText(points)
      : { vehicle: pointOf(points.from), target: pointOf(points.to) };
  const { vehicle } = stated;
  if (vehicle.isPort || vehicle.toPortM !== null) return stated;
  return { ...stated, vehicle: { ...vehicle, toPortM: arm } };
}

const NORMALS: Readonly<Record<string, Vector>> = {
  x: [1, 0, 0],
  '-x': [-1, 0, 0],
  y: [0, 1, 0],
  '-y': [0, -1, 0],
  z: [0, 0, 1],
  '-z': [0, 0, -1],
};

function readOrbit(orbit: TelemetryData['orbit']): OrbitTurn | null {
  if (orbit === undefined) return null;
  const { normal, altitude_m, mean_motion_radps, period_s } = orbit;
  const rateRadPerS =
    mean_motion_radps ??
    (period_s !== undefined ? (2 * Math.PI) / period_s : meanMotionRadPerS(altitude_m ?? 0));
  return { rateRadPerS, normal: NORMALS[normal] ?? [0, 0, 0] };
}

type Stated = Pick<TelemetryDeclaration, 'points' | 'between' | 'axes' | 'orbit'>;

/** What is measured, in which axes; keys are absent where nothing is stated. */
export function readPoints(data: TelemetryData): Stated {
  const between = readBetween(data);
  const orbit = readOrbit(data.orbit);
  const points = typeof data.points === 'string' ? data.points : null;
  return {
    points:
      points ?? (data.points === undefined || between === null ? null : betweenWords(between)),
    ...(between === null ? {} : { between }),
    ...(data.axes === 'orbit' ? { axes: 'orbit' } : {}),
    ...(orbit === null ? {} : { orbit }),
  };
}

const RATES = ['altitude_m', 'mean_motion_radps', 'period_s'] as const;

/** Two ways to state one thing, said once each. */
export function checkPoints(data: TelemetryData, path: KeyPath, report: Report): void {
  const { orbit, points } = data;
  const rates = orbit === undefined ? [] : RATES.filter((key) => orbit[key] !== undefined);
  if (orbit !== undefined && rates.length !== 1) {
    report([...path, 'orbit'], {
      code: rates.length === 0 ? 'key-missing' : 'key-conflict',
      message: `states its rate once, by one of ${RATES.join(', ')}`,
      expected: 'one of them',
      received: rates.length === 0 ? 'none' : rates.join(', '),
    });
  }
  const own = typeof points === 'object' && typeof points.from === 'object' ? points.from : null;
  if (own?.to_port_m !== undefined && data.lever_arm_m !== undefined) {
    report([...path, 'lever_arm_m'], {
      code: 'key-conflict',
      message: 'says again what points.from.to_port_m says',
      expected: 'one of both',
      received: 'both',
    });
  }
}
