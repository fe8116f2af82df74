import { expect, test } from 'vitest';
import { isBetweenPorts } from '@/lib/core/session/measured-points';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { expectWithin } from '../../support/expect-within';

function read(keys: string) {
  const { value, issues } = readSessionFile(
    `title: T
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels: { x: { as: position.x, unit: m } }
    ${keys}
`,
    'session.yaml',
  );
  const [source] = value?.sources ?? [];
  return { declared: source?.type === 'telemetry' ? source.declared : null, issues };
}

test('points with their ways to the ports, the axes and the orbit are read', () => {
  const { declared, issues } = read(
    'points: { from: { is: centre of mass, to_port_m: [-4.2, 0, 0.1] }, to: { is: sensor, name: reflector } }, axes: orbit, orbit: { period_s: 5550, normal: -y }'.replaceAll(
      /, (axes|orbit):/g,
      '\n    $1:',
    ),
  );
  expect(issues).toEqual([]);
  expect(declared?.points).toBe('centre of mass to reflector');
  expect(declared?.between).toEqual({
    vehicle: { name: 'centre of mass', isPort: false, toPortM: [-4.2, 0, 0.1] },
    target: { name: 'reflector', isPort: false, toPortM: null },
  });
  expect(declared?.axes).toBe('orbit');
  expect(declared?.orbit?.normal).toEqual([0, -1, 0]);
  expectWithin(declared?.orbit?.rateRadPerS, (2 * Math.PI) / 5550, 1e-12, 'rounding');
});

test.each([
  ['points: port to port', true],
  ['points: chaser docking port to target docking port', true],
  ['points: centre of mass to port', false],
  ['points: { from: { is: port }, to: { is: port } }', true],
  ['points: { from: { is: port, to_port_m: [0, 0, 0.3] }, to: port }', false],
  ['points: { from: { is: sensor, to_port_m: [0, 0, 0] }, to: port }', true],
  ['lever_arm_m: -4', false],
])('%s is between the ports: %s', (keys, isPorts) => {
  const { declared, issues } = read(keys);
  expect(issues).toEqual([]);
  expect(declared?.between === undefined ? null : isBetweenPorts(declared.between)).toBe(isPorts);
});

test('nothing stated leaves nothing behind, so that such a folder is read as before', () => {
  expect(Object.keys(read('sensor: radar').declared ?? {})).not.toContain('between');
  expect(read('axes: target port').declared).toEqual(read('').declared);
});

/** By hand: 0.1 m of one standard deviation are 0.196 m at 95 % of a normal distribution. */
test('an accuracy of one standard deviation becomes that of 95 %', () => {
  const { declared } = read(
    'accuracy: { range: { value: 10, unit: cm, is: 1 sd }, velocity: { value: 2, unit: mm/s, is: 95 % }, position_m: 0.3 }',
  );
  expectWithin(declared?.accuracy?.range, 0.196, 5e-5, 'to four digits');
  expectWithin(declared?.accuracy?.velocity, 0.002, 1e-12, 'rounding');
  expect(declared?.accuracy?.position).toBe(0.3);
});

test('an orbit says its rate once, and an arm stands in one place; each is one message', () => {
  const messages = (keys: string) => read(keys).issues.map(({ message }) => message);
  expect(messages('orbit: { normal: y }')).toEqual([
    expect.stringContaining('states its rate once'),
  ]);
  expect(messages('orbit: { normal: y, period_s: 5500, altitude_m: 400000 }')).toEqual([
    expect.stringContaining('states its rate once'),
  ]);
  expect(
    messages(
      'points: { from: { is: sensor, to_port_m: [1, 0, 0] }, to: port }\n    lever_arm_m: 2',
    ),
  ).toEqual([expect.stringContaining('says again')]);
  expect(messages('points: { from: { is: centre of gravity }, to: port }')).toHaveLength(1);
});
