import { describe, expect, test } from 'vitest';
import { rollPitchYawDeg } from '@/lib/core/intake/formats/ccsds-attitude';
import { readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { ccsdsTable } from '@/lib/core/intake/formats/ccsds-table';
import { expectWithin } from '../../support/expect-within';

function tableOf(text: string) {
  const { value, issues } = readCcsdsMessage(text, 'message');
  if (value === null) throw new Error(issues.map(({ message }) => message).join('; '));
  const { columns, rows, issues: said } = ccsdsTable(value, 'message');
  const column = (name: string): readonly number[] => {
    const at = columns.findIndex((each) => each.name === name);
    return rows.map(({ cells }) => Number(cells[at]));
  };
  return { columns, column, issues: said };
}

describe('ranges modulo 10 km', () => {
  function tracked(rangesKm: readonly number[]) {
    const data = rangesKm.map((range, at) => {
      return `RANGE = 2031-03-02T10:00:${String(at).padStart(2, '0')} ${range}`;
    });
    return tableOf(
      `CCSDS_TDM_VERS = 2.0\nMETA_START\nTIME_SYSTEM = UTC\nPARTICIPANT_1 = A\nRANGE_MODULUS = 10\nMETA_STOP\nDATA_START\n${data.join('\n')}\nDATA_STOP\n`,
    );
  }

  test('a range that closes through its modulus goes on below, and is said to', () => {
    const truth = Array.from({ length: 20 }, (_, at) => 25 - 0.9 * at);
    const { column, issues } = tracked(truth.map((range) => ((range % 10) + 10) % 10));
    // The first value is 5 km; the two whole ones in 25 km are not in the message.
    column('RANGE').forEach((range, at) => {
      expectWithin(range, (truth[at] ?? 0) - 20, 1e-9, 'rounding of doubles');
    });
    expect(issues).toMatchObject([{ code: 'range-modulus', severity: 'warning', line: 5 }]);
    expect(issues[0]?.message).toMatch(/2 crossings are undone, the first at line 14;/);
  });

  test('a step that may be either is left, with all values as written', () => {
    const written = [1, 2, 3, 8.9, 4];
    const { column, issues } = tracked(written);
    expect(column('RANGE')).toEqual(written);
    expect(issues[0]?.message).toMatch(/before line 11 cannot be told/);
  });
});

describe('segments of tracking data', () => {
  // RANGE_UNITS is km where it is left out: CCSDS 503.0-B-2, table 3-3, from memory.
  function twoSegments(second: string) {
    const segment = (units: string, minute: number) =>
      `META_START\nTIME_SYSTEM = UTC\nPARTICIPANT_1 = A\n${units}META_STOP\nDATA_START\nRANGE = 2031-03-02T10:0${minute}:00 ${minute}\nDATA_STOP\n`;
    return tableOf(
      `CCSDS_TDM_VERS = 2.0\n${segment('RANGE_UNITS = km\n', 1)}${segment(second, 2)}`,
    );
  }

  test('units left out are those of the standard: the ranges go on in one column', () => {
    const { column, issues } = twoSegments('');
    expect(column('RANGE')).toEqual([1, 2]);
    expect(issues).toEqual([]);
  });

  test('a segment in other units has a column of its own, and this is said with the reason', () => {
    const { columns, issues } = twoSegments('RANGE_UNITS = s\n');
    expect(columns).toEqual([
      { name: 'RANGE', unit: 'km' },
      { name: 'RANGE (segment 2)', unit: 's' },
    ]);
    expect(issues).toMatchObject([{ code: 'segment-apart', severity: 'warning', line: 10 }]);
    expect(issues[0]?.message).toContain('RANGE_UNITS s');
  });
});

describe('attitude messages', () => {
  function attitude(metadata: string, row: string) {
    return tableOf(
      `CCSDS_AEM_VERS = 2.0\nMETA_START\nTIME_SYSTEM = UTC\n${metadata}\nMETA_STOP\nDATA_START\n2031-03-02T10:00:00 ${row}\nDATA_STOP\n`,
    );
  }

  // Components of 504.0-B-2, table 4-4, from memory.
  test('spin with the axis of momentum has seven components with their units', () => {
    const { columns, column } = attitude(
      'ATTITUDE_TYPE = SPIN/NUTATION_MOM',
      '10 30 0 1 80 15 0.5',
    );
    expect(columns.slice(0, 7).map(({ unit }) => unit)).toEqual([
      'deg',
      'deg',
      'deg',
      'deg/s',
      'deg',
      'deg',
      'deg/s',
    ]);
    expect(column('MOMENTUM_DELTA')).toEqual([15]);
  });

  test('a turn about one axis by a quaternion is that angle, the other way round for B2A', () => {
    const half = (Math.PI / 180) * 15;
    for (const [axis, name] of ['ROLL', 'PITCH', 'YAW'].entries()) {
      const vector = [0, 0, 0];
      vector[axis] = Math.sin(half);
      const row = [...vector, Math.cos(half)].join(' ');
      const { column, columns } = attitude('ATTITUDE_TYPE = QUATERNION', row);
      expectWithin(column(name)[0], 30, 1e-9, 'rounding of doubles');
      expect(columns.find((each) => each.name === name)?.unit).toBe('deg');
      const back = attitude('ATTITUDE_TYPE = QUATERNION\nATTITUDE_DIR = B2A', row);
      expectWithin(back.column(name)[0], -30, 1e-9, 'rounding of doubles');
    }
  });

  test('yaw, then pitch, then roll come back from the product of their quaternions', () => {
    const turn = (axis: number, deg: number): [number, number, number, number] => {
      const q: [number, number, number, number] = [0, 0, 0, Math.cos((deg * Math.PI) / 360)];
      q[axis] = Math.sin((deg * Math.PI) / 360);
      return q;
    };
    type Q = [number, number, number, number];
    const times = ([a, b, c, d]: Q, [e, f, g, h]: Q): Q => [
      d * e + a * h + b * g - c * f,
      d * f - a * g + b * h + c * e,
      d * g + a * f - b * e + c * h,
      d * h - a * e - b * f - c * g,
    ];
    const q = times(times(turn(2, 40), turn(1, -25)), turn(0, 10));
    const [roll, pitch, yaw] = rollPitchYawDeg(q) ?? [];
    expectWithin(roll, 10, 1e-9, 'rounding of doubles');
    expectWithin(pitch, -25, 1e-9, 'rounding of doubles');
    expectWithin(yaw, 40, 1e-9, 'rounding of doubles');
    expect(rollPitchYawDeg([0, 0, 0, 0.5])).toBeNull();
  });

  test('Euler angles stand under their axes; a sequence with one axis twice, or the way back, has none', () => {
    const named = attitude('ATTITUDE_TYPE = EULER_ANGLE\nEULER_ROT_SEQ = ZYX', '40 -25 10');
    expect(['ROLL', 'PITCH', 'YAW'].map((name) => named.column(name)[0])).toEqual([10, -25, 40]);
    const type = 'ATTITUDE_TYPE = EULER_ANGLE\nEULER_ROT_SEQ = ZYX\nATTITUDE_DIR = B2A';
    expect(attitude(type, '40 -25 10').columns.map(({ name }) => name)).not.toContain('YAW');
    const twice = attitude('ATTITUDE_TYPE = EULER_ANGLE\nEULER_ROT_SEQ = 313', '40 -25 10');
    expect(twice.columns.map(({ name }) => name)).toEqual(['ANGLE_1', 'ANGLE_2', 'ANGLE_3']);
  });
});

/**
 * Source: CCSDS 504.0-B-2 figure G-4, the first record of the quaternion example; a rotation has a
 * quaternion of norm 1, printed to 5 decimals.
 */
test('the printed quaternion of figure G-4 is taken as a rotation', () => {
  expect(rollPitchYawDeg([0.56748, 0.03146, 0.45689, 0.68427])).not.toBeNull();
});
