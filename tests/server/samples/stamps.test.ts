/** Stamps of rows: those that step back or jump, times of day, dates in other orders, leap seconds. */
import { expect, test } from 'vitest';
import { importText } from '../../support/import-text';
import { instantOf, telemetrySpec, ZERO } from '../../support/telemetry-spec';

const isoTime = { columns: ['t'], code: 'iso8601', scale: 'UTC', from: ZERO } as const;

const list = (values: Float64Array | undefined) => Array.from(values ?? []);

test('stamps that step back are kept out of a long file and named in one run', async () => {
  const rows = Array.from({ length: 5000 }, (_, row) => `${row < 4000 ? row : row - 500},1,2`);
  const { source, report } = await importText(`t,a,b\n${rows.join('\n')}\n`, telemetrySpec());
  expect(source?.tS.length).toBe(4499 + 1);
  expect(report).toMatchObject({ rows: 4500, rowsRead: 5000, rowsOutOfOrder: 500 });
  expect(
    report?.stampFaults.map(({ kind, startS, endS, line }) => [kind, startS, endS, line]),
  ).toEqual([
    ['out_of_order', 3500, 3999, 4002],
    ['duplicate', 3999, 3999, 4501],
  ]);
});

test('times of day count on over midnight, and this is said; an unclear step is refused', async () => {
  const time = { columns: ['t'], code: 'elapsed-dhms', scale: 'UTC', from: ZERO } as const;
  const spec = telemetrySpec({ time });
  const text = 't,a,b\n23:59:58,1,1\n23:59:59,2,1\n00:00:00,3,1\n00:00:01,4,1\n';
  const { issues, report } = await importText(text, spec);
  expect(report).toMatchObject({ rows: 4, rowsOutOfOrder: 0, toS: 86_401 });
  expect(issues).toMatchObject([{ code: 'carried-over-midnight', severity: 'warning', line: 4 }]);
  const long = 'name,t,value\na,23:59:58,1\na,00:00:01,2\nb,23:59:59,3\nb,00:00:02,4\n';
  const like = { time, layout: 'long', nameColumn: 'name', valueColumn: 'value' } as const;
  const { report: tall } = await importText(long, telemetrySpec(like));
  expect(tall).toMatchObject({ rows: 4, rowsOutOfOrder: 0, fromS: 86_398, toS: 86_402 });
  const open = await importText('t,a,b\n15:00:00,1,1\n04:00:00,2,1\n', spec);
  expect(open.issues).toMatchObject([{ code: 'day-not-said', severity: 'error', line: 3 }]);
});

test('days of a spreadsheet taken for seconds are said, and so are signs between thousands', async () => {
  const days = ['t,a,b', '47972.416667,1,2', '47972.416673,1,3', '47972.416678,1,4'];
  const { issues } = await importText(days.join('\n'), telemetrySpec());
  expect(issues).toMatchObject([{ code: 'spreadsheet-days', severity: 'warning' }]);
  const grouped = 't,a,b\n0,"1,200.5",1\n1,"1,201.5",2\n2,"1,202.5",3\n';
  const refused = await importText(grouped, telemetrySpec());
  expect(refused.issues.map(({ message }) => message)).toEqual([
    expect.stringMatching(/3 of 3 cells .*"1,200\.5"; write the numbers without signs between/),
  ]);
});

test('dates that end in the year are read in the order that all of them allow', async () => {
  const zero = instantOf('2031-04-05T09:00:00Z');
  const rows = ['t,a,b', '05/04/2031 09:00:00,1,2', '17/04/2031 9:00:00 PM,3,4'];
  const { issues, report } = await importText(
    rows.join('\n'),
    telemetrySpec({ time: isoTime }),
    zero,
  );
  // Twelve days and twelve hours.
  expect(report).toMatchObject({ rows: 2, fromS: 0, toS: 12.5 * 86_400 });
  expect(issues).toMatchObject([{ code: 'date-order-found', severity: 'warning' }]);
  const open = await importText(
    `${rows.slice(0, 2).join('\n')}\n`,
    telemetrySpec({ time: isoTime }),
    zero,
  );
  expect(open.issues).toMatchObject([{ code: 'date-order-open', severity: 'error' }]);
});

/**
 * Source: UTC had a second 23:59:60 on 31 December 2016 (IERS Bulletin C 52), so 00:00:00.25 lies
 * 2.25 s after 23:59:59.0.
 */
test('a leap second counts as one second, to the nanosecond', async () => {
  const zero = instantOf('2016-12-31T23:59:59Z');
  const stamps = [
    '2016-12-31T23:59:59.500000001Z',
    '2016-12-31T23:59:60.5Z',
    '2017-01-01T00:00:00.250000000Z',
  ];
  const text = `t,a,b\n${stamps.map((stamp) => `${stamp},1,2`).join('\n')}\n`;
  const { source, issues } = await importText(text, telemetrySpec({ time: isoTime }), zero);
  expect(issues).toEqual([]);
  expect(list(source?.tS)).toEqual([0.500000001, 1.5, 2.25]);
});

test('stamps that jump forward are named with line and size, in order or not', async () => {
  const at = [0, 1, 2, 3, 2.5, 4, 16.5, 17.5, 18.5, 19.5];
  const text = `t,a,b\n${at.map((t) => `${t},1,2`).join('\n')}\n`;
  const { report, issues } = await importText(text, telemetrySpec());
  expect(report?.stampFaults).toEqual([
    { kind: 'out_of_order', startS: 2.5, endS: 3, line: 6 },
    { kind: 'jump', startS: 4, endS: 16.5, line: 8 },
  ]);
  expect(issues.map(({ code, line, message }) => [code, line, message.split(': ')[1]])).toEqual([
    ['time-not-ascending', 6, 'line 6 steps back 0.5 s'],
    ['time-jumps', 8, 'line 8 jumps 12.5 s; nothing is evaluated inside'],
  ]);
});
