import { expect, test } from 'vitest';
import { describedSession } from '@/lib/core/intake/proposal/described-session';
import {
  asBefore,
  columnsAsBefore,
  fitsAgain,
  type Remembered,
  timeAsBefore,
} from '@/lib/core/intake/proposal/remembered-source';
import type { DescribedFile } from '@/lib/core/intake/proposal/session-proposal';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { instantOf, telemetrySpec, ZERO } from '../../../support/telemetry-spec';

const column = (name: string) => ({ column: name, as: null, unit: null, sign: 1 }) as const;
const FILE: DescribedFile = {
  file: 'nav.csv',
  use: 'telemetry',
  time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: null, dateOrder: null },
  ownTimes: false,
  layout: 'wide',
  nameColumn: null,
  valueColumn: null,
  channels: ['a', 'b', 'c'].map(column),
  clock: 'own',
  stamping: { stamp: null, latency: '', available: null },
};

function remembered(from: string, change: Partial<TelemetrySpec> = {}): Remembered {
  const time = {
    columns: ['t'],
    code: 'elapsed-seconds',
    scale: 'UTC',
    from: instantOf(from),
  } as const;
  return { spec: telemetrySpec({ ...change, time }), title: 'First arrival', zero: ZERO };
}

test('an elapsed clock keeps the instant that it was stated to count from', () => {
  const known = remembered('2025-03-04T08:30:00.25Z');
  const file = asBefore(FILE, known);
  expect(file.time).toMatchObject({ from: '2025-03-04T08:30:00.25Z' });
  expect(file.channels.map(({ as }) => as)).toEqual(['a', 'b', null]);
  expect(timeAsBefore(known)).toContain('counted from 2025-03-04T08:30:00.25Z in "First arrival"');
  const zero = '2025-03-05T10:00:00Z';
  const { sources } = describedSession({ title: 'B', kind: 'flight', zero, files: [file] });
  expect(sources[0]?.time).toMatchObject({ from: '2025-03-04T08:30:00.25Z' });
});

test('one that counted from session time 0 counts from the new one', () => {
  const known = remembered('2025-03-04T10:00:00Z');
  expect(asBefore(FILE, known).time).toMatchObject({ from: null });
  expect(timeAsBefore(known)).toBeNull();
});

test('a source of which the form cannot say everything is not taken again', () => {
  const header = ['t', 'a', 'b', 'c'];
  const zero = '2025-03-04T10:00:00Z';
  expect(fitsAgain(remembered(zero), FILE, header)).toBe(true);
  expect(fitsAgain(remembered(zero, { missing: [-999] }), FILE, header)).toBe(false);
  const dialect = { separator: null, decimal: ',', encoding: null } as const;
  expect(fitsAgain(remembered(zero, { dialect }), FILE, header)).toBe(false);
});

test('a unit that an earlier description said is not called unsaid', () => {
  const proposed = ['a', 'c'].map((name) => ({
    ...column(name),
    isUnitSaid: false,
    reason: 'no unit is said, m is proposed',
    examples: [],
  }));
  const [known, other] = columnsAsBefore(proposed, remembered('2025-03-04T10:00:00Z'));
  expect(known).toMatchObject({
    as: 'a',
    isUnitSaid: true,
    reason: 'as described in "First arrival"',
  });
  expect(other).toMatchObject({ as: null, isUnitSaid: false });
  expect(other?.reason).toContain('not used in "First arrival"');
});
