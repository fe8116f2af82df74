import { expect, test } from 'vitest';
import type { FileSketch } from '@/lib/core/intake/proposal/file-sketch';
import { proposeSession } from '@/lib/core/intake/proposal/session-proposal';

function sketch(
  file: string,
  kind: 'table' | 'log',
  columns: Readonly<Record<string, string[]>>,
): FileSketch {
  const table = {
    columns: Object.keys(columns),
    cells: Object.values(columns),
    units: null,
    blocks: [0],
    decimal: '.' as const,
    lines: [],
  };
  const common = { bytes: 1, said: '', ownTimes: false, lines: [], spokenRanges: 0, instead: null };
  return { file, kind, table, ...common };
}

const EVENTS = sketch('events.csv', 'log', {
  utc: ['2031-04-17T09:22:30.000Z', '2031-04-17T09:33:33.000Z'],
  event: ['a', 'b'],
});
const X = ['250.1', '250.0', '249.9'];

/** Serial days: Python 3.11, `datetime(1904, 1, 1) + timedelta(days=46493.4)` is 2031-04-17 09:36. */
test.each([
  [['46493.4', '46493.400002', '46493.400004'], 'days-since-1904'],
  [['47955.4', '47955.400002', '47955.400004'], 'days-since-1900'],
  [['62973.4', '62973.400002', '62973.400004'], 'modified-julian-date'],
])('days such as %j are taken for the count beside the dates of other files', (days, code) => {
  const { description, reasons } = proposeSession([
    sketch('nav.csv', 'table', { Date: days, x_m: X }),
    EVENTS,
  ]);
  expect(description.files[0]?.time).toMatchObject({ code, scale: null });
  const isOther = code !== 'days-since-1900';
  expect(/beside the dates of the other files/.test(reasons[0]?.time ?? '')).toBe(isOther);
});

test('seconds of the day count from the midnight before the dates of other files', () => {
  const sod = sketch('nav.csv', 'table', { sod: ['33150.0', '33150.2', '33150.4'], x_m: X });
  const { description } = proposeSession([sod, EVENTS]);
  expect(description.files[0]?.time?.from).toBe('2031-04-17T00:00:00Z');
  // 33,150 s are 09:12:30, before the first event.
  expect(description.zero).toBe('2031-04-17T09:12:30Z');
});

test('where no file has a date the midnight is to be said', () => {
  const tod = sketch('nav.csv', 'table', {
    tod: ['09:12:30.0', '09:12:30.2', '09:12:30.4'],
    x_m: X,
  });
  expect(proposeSession([tod]).description).toMatchObject({
    zero: '',
    files: [{ time: { from: '' } }],
  });
  const met = sketch('nav.csv', 'table', {
    met: ['09:12:30.0', '09:12:30.2', '09:12:30.4'],
    x_m: X,
  });
  expect(proposeSession([met]).description.files[0]?.time).toMatchObject({ from: null });
});

test('stamps with an offset from UTC are on UTC', () => {
  const local = [
    '2031-04-17T11:12:30+02:00',
    '2031-04-17T11:12:31+02:00',
    '2031-04-17T11:12:32+02:00',
  ];
  const { files } = proposeSession([sketch('nav.csv', 'table', { local, x_m: X })]).description;
  expect(files[0]?.time).toMatchObject({ code: 'iso8601', scale: 'UTC' });
});
