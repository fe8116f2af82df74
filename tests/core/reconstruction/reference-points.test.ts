import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { stretchFigures } from '@/lib/core/findings/stretch-figures';
import { checkSource } from '@/lib/core/reconstruction/data-quality';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { placeTelemetry, rowsOnSession } from '@/lib/core/reconstruction/placed-sources';
import { bringToPorts } from '@/lib/core/reconstruction/port-sources';
import { quantityByName } from '@/lib/core/reconstruction/quantities';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { broughtRateSd } from '@/lib/core/reconstruction/source-reference';
import type { LogEntry, TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  channel,
  flownSession,
  flownTelemetry,
  gaussian,
  plannedArrival,
  TEST_ENGINE,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';
import { seededRandom } from '../../support/seeded-random';

const FLIGHT = { axial: plannedArrival(), durationS: 2000, stepS: 0.4 };
const ARM_M = [-5, 0.3, 0] as const;
const BETWEEN = {
  vehicle: { name: 'centre of mass', isPort: false, toPortM: ARM_M },
  target: { name: 'port', isPort: true, toPortM: null },
} as const;
/** n of the published arithmetic of relative motion: n r is 0.113 m/s at 100 m. */
const N_RADPS = 0.00113;
const CONTACT: LogEntry = {
  sourceS: 872,
  sourceEndS: null,
  event: 'contact',
  text: null,
  speaker: null,
  line: 1,
};

const CALLOUT: LogEntry = {
  ...CONTACT,
  sourceS: 300,
  event: null,
  text: 'Range 50 metres.',
  line: 2,
};

const ports = flownTelemetry(FLIGHT);

function resultOf(source: TelemetrySource, entries?: readonly LogEntry[]) {
  const rules = [RATE_RULE];
  const session = flownSession({ ...FLIGHT, rules, ...(entries === undefined ? {} : { entries }) });
  const input = { ...session, sources: [source, ...session.sources.slice(1)] };
  return reconstruct(input, TEST_ENGINE);
}

function reconstructed(source: TelemetrySource, entries?: readonly LogEntry[]) {
  return resultOf(source, entries).reconstruction;
}

/** Yaw swings by 2 deg in 100 s; its rate is 0.126 deg/s at most. */
const yawRad = (t: number) => 0.035 * Math.sin((2 * Math.PI * t) / 100);
const yawRate = (t: number) => ((0.035 * 2 * Math.PI) / 100) * Math.cos((2 * Math.PI * t) / 100);

/** The same flight as seen from the centre of mass, by hand: r' = r - C a, v' = v - omega x C a. */
function ofCentre(attitude: 'recorded' | 'not recorded'): TelemetrySource {
  const { tS } = ports;
  const random = seededRandom(9);
  const [ax, ay] = ARM_M;
  const armOf: Record<string, (t: number) => number> = {
    'position.x': (t) => ax * Math.cos(yawRad(t)) - ay * Math.sin(yawRad(t)),
    'position.y': (t) => ax * Math.sin(yawRad(t)) + ay * Math.cos(yawRad(t)),
    'velocity.x': (t) => -yawRate(t) * (ax * Math.sin(yawRad(t)) + ay * Math.cos(yawRad(t))),
    'velocity.y': (t) => yawRate(t) * (ax * Math.cos(yawRad(t)) - ay * Math.sin(yawRad(t))),
  };
  const channels = ports.channels.map((each) => {
    const arm = armOf[each.as];
    return arm === undefined
      ? each
      : { ...each, values: each.values.map((value, row) => value - arm(tS[row] ?? 0)) };
  });
  const noisy = (at: (t: number) => number) => tS.map((t) => at(t) + 1.4e-4 * gaussian(random));
  const angles = [
    channel(
      'roll',
      'relative_attitude.roll',
      'rad',
      noisy(() => 0),
    ),
    channel(
      'pitch',
      'relative_attitude.pitch',
      'rad',
      noisy(() => 0),
    ),
    channel('yaw', 'relative_attitude.yaw', 'rad', noisy(yawRad)),
  ];
  return {
    ...ports,
    channels: attitude === 'recorded' ? [...channels, ...angles] : channels,
    declared: { ...ports.declared, points: 'centre of mass to port', between: BETWEEN },
  };
}

const direct = reconstructed(ports);

describe('a position of the centre of mass with the attitude beside it', () => {
  const brought = reconstructed(ofCentre('recorded'));

  test('is brought to the port: contact and its conditions are those of the ports', () => {
    expect(brought.navigation?.sources[0]?.reference?.points).toBe('brought');
    expect(brought.phases.map(({ step }) => step)).toEqual(direct.phases.map(({ step }) => step));
    const half = halfWidth95(brought.contact?.timeS ?? direct.session.durationS) ?? 0;
    expectWithin(
      brought.contact?.timeS.value,
      direct.contact?.timeS.value ?? 0,
      half,
      'own interval',
    );
    for (const name of ['closing_rate', 'lateral_rate', 'lateral_offset'] as const) {
      const [one, other] = [brought.contact?.conditions[name], direct.contact?.conditions[name]];
      const own = (one && halfWidth95(one)) ?? 0;
      expectWithin(one?.value, other?.value ?? Number.NaN, own, `${name}: its own interval`);
    }
    // Uncorrected, omega x r alone is up to 11 mm/s, and 0.18 m of offset.
    expect(halfWidth95(brought.contact?.conditions.lateral_rate as never)).toBeLessThan(0.004);
  });

  test('names attitude and points beside each figure', () => {
    const figure = brought.contact?.conditions.lateral_offset;
    expect(figure?.method).toContain('Brought from centre of mass to port');
    expect(brought.phases[0]?.rangeStartM.evidence.channels).toContain('yaw');
    expect(brought.notes.map(({ code }) => code)).toContain('points-brought');
  });
});

describe('a position of the centre of mass without attitude', () => {
  const AWAY = resultOf(ofCentre('not recorded'), [CONTACT, CALLOUT]);
  const away = AWAY.reconstruction;

  test('has no conditions at contact, and says why; the instant is that of the log', () => {
    expect(away.contact?.basis).toBe('event');
    expect(away.contact?.conditions).toEqual({});
    expect(away.contact?.notEvaluated).toContain('neither attitude is recorded');
    expect(reconstructed(ofCentre('not recorded')).contact).toBeNull();
  });

  test('labels every length and every speed of the motion with its points', () => {
    const kinematic = [...listFigures(away)].filter(
      ([key, { unit }]) =>
        // What was said is of nobody's points.
        !key.endsWith('said_m') && ['m', 'm/s'].includes(unit),
    );
    const stretch = { reconstruction: away, derived: AWAY.derived, channels: [] };
    const captured = stretchFigures({ ...stretch, fromS: 100, toS: 200 });
    for (const { key, figure } of captured) if (figure.unit !== 's') kinematic.push([key, figure]);
    expect(kinematic.length).toBeGreaterThan(20);
    for (const [key, { method }] of kinematic)
      expect(method, key).toContain('Of centre of mass to port, not of the ports.');
  });
});

test('what is not stated is assumed from port to port, said once, and nothing else is', () => {
  const { notes, contact } = direct;
  expect(notes.filter(({ code }) => code.startsWith('points-'))).toHaveLength(1);
  expect(contact?.notEvaluated).toBeUndefined();
  const stated = {
    ...ports,
    declared: {
      ...ports.declared,
      points: 'port to port',
      between: {
        vehicle: { name: 'port', isPort: true, toPortM: null },
        target: BETWEEN.target,
      },
    },
  };
  expect(reconstructed(stated).notes.filter(({ code }) => code.startsWith('points-'))).toEqual([]);
});

/** The flight with the velocity in inertial axes: + omega x r, the axes turning about -y. */
function inertial(
  declared: Partial<TelemetrySource['declared']>,
  turn: 1 | 0 = 1,
): TelemetrySource {
  const x = ports.channels.find(({ as }) => as === 'position.x')?.values ?? new Float64Array(0);
  const z = ports.channels.find(({ as }) => as === 'position.z')?.values ?? new Float64Array(0);
  const channels = ports.channels.map((each) => {
    const add = each.as === 'velocity.z' ? x : each.as === 'velocity.x' ? z : null;
    const sign = each.as === 'velocity.z' ? 1 : -1;
    return add === null
      ? each
      : { ...each, values: each.values.map((v, i) => v + turn * sign * N_RADPS * (add[i] ?? 0)) };
  });
  return { ...ports, channels, declared: { ...ports.declared, ...declared } };
}

const ORBIT = { rateRadPerS: N_RADPS, normal: [0, -1, 0] } as const;
const REVERSED = { rateRadPerS: N_RADPS, normal: [0, 1, 0] } as const;

describe('a velocity in inertial axes', () => {
  const readingsOf = ({ navigation }: ReturnType<typeof reconstructed>) =>
    navigation?.turning.map(({ axis, reading, about }) => [axis, reading, about]);
  const readings = (source: TelemetrySource) => readingsOf(reconstructed(source));

  /** Source: n r with n = 0.00113 rad/s (recomputed, elementary). */
  test('declared with its orbit is turned: the results are those of the rotating one', () => {
    const turned = reconstructed(inertial({ velocityFrame: 'inertial', orbit: ORBIT }));
    expect(turned.navigation?.turning).toEqual([]);
    expect(turned.notes.map(({ code }) => code)).toContain('velocity-turned');
    turned.phases.forEach((phase, i) => {
      expectWithin(phase.startS.value, direct.phases[i]?.startS.value ?? 0, 1e-3, 'n of the noise');
    });
    const rate = turned.contact?.conditions.lateral_rate?.value;
    expectWithin(rate, direct.contact?.conditions.lateral_rate?.value ?? 0, 1e-4, 'n of the noise');
  });

  test('not declared, it is named with its sense and, where an orbit is stated, told from its opposite', () => {
    const silent = reconstructed(inertial({}));
    expect(readingsOf(silent)).toEqual([['z', 'inertial', '-y']]);
    expect(readings(inertial({ orbit: ORBIT }))).toEqual([['z', 'inertial-by-orbit', '-y']]);
    expect(readings(inertial({ orbit: REVERSED }))).toEqual([['z', 'against-orbit', '-y']]);
    const named = silent.notes.find(({ code }) => code === 'velocity-turns');
    expect(named?.message).toContain('axes that turn about -y');
  });

  test('declared wrongly, it is told whether it was turned already or the normal is the other way', () => {
    const wrong = { velocityFrame: 'inertial', orbit: ORBIT } as const;
    expect(readings(inertial(wrong, 0))).toEqual([['z', 'turned-twice', 'y']]);
    const other = { velocityFrame: 'inertial', orbit: REVERSED } as const;
    expect(readings(inertial(other))).toEqual([['z', 'normal-reversed', '-y']]);
  });
});

/**
 * By hand: 1.4e-4 rad of white noise every 0.4 s; five rows lie within 1 s to either side, the sum of their
 * squared times is 1.6 s2, so the turn is known to 1.4e-4 / sqrt(1.6) = 1.107e-4 rad/s: 11.1 mm/s across at
 * 100 m, 3.3 mm/s at 30 m, none along.
 * Source: elementary; variance of a least-squares slope, and d omega x r.
 */
test('in axes of the orbit the noise of the turn times the distance is in the rates across', () => {
  const random = seededRandom(5);
  const angles = ['roll', 'pitch', 'yaw'].map((name) =>
    channel(
      `t_${name}`,
      `target_attitude.${name}`,
      'rad',
      ports.tS.map(() => 1.4e-4 * gaussian(random)),
    ),
  );
  const source: TelemetrySource = {
    ...ports,
    channels: [...ports.channels, ...angles],
    declared: { ...ports.declared, axes: 'orbit' },
  };
  const placed = placeTelemetry(source, []);
  const where = { tS: rowsOnSession(placed), toSession: placed.toSession, corrections: [] };
  const [brought] = bringToPorts([checkSource(source, where)]);
  if (brought === undefined) throw new Error('one source was given');
  const sdAt = (name: string, atS: number) => {
    const quantity = quantityByName(name, null, [brought]);
    const row = brought.tS.findIndex((t) => t >= atS);
    return quantity?.sd[row] ?? Number.NaN;
  };
  const turn = (axis: string, atS: number) =>
    broughtRateSd(brought.reference, axis)(brought.tS.findIndex((t) => t >= atS));
  expect(brought.reference?.points).toBe('brought');
  expectWithin(
    turn('y', 30),
    0.0111,
    0.0022,
    'at 100 m; noise told from a few hundred rows: a fifth',
  );
  expectWithin(turn('z', 30), 0.0111, 0.0022, 'as above');
  expect(turn('x', 30)).toBeLessThan(1e-4);
  for (const axis of ['y', 'z']) {
    expect(sdAt(`velocity.${axis}`, 30)).toBeGreaterThanOrEqual(turn(axis, 30));
    expect(turn(axis, 860)).toBeLessThan(turn(axis, 30) / 10);
  }
});
