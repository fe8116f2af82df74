import { describe, expect, test } from 'vitest';
import { proposeTime } from '@/lib/core/intake/proposal/time-proposal';

function read(columns: Readonly<Record<string, readonly string[]>>): string {
  const found = proposeTime({ columns: Object.keys(columns), cells: Object.values(columns) });
  return found === null
    ? 'nothing'
    : `${found.columns.join('+')} ${found.code} ${found.scale ?? 'scale open'}`;
}

const WALK = ['10.0', '9.0', '8.5'];

describe('the column of stamps is found by name and values', () => {
  test('calendar and day-of-year stamps; without Z or a name the scale stays open', () => {
    expect(read({ utc: ['2031-03-02T10:00:00', '2031-03-02T10:00:01'] })).toBe('utc iso8601 UTC');
    expect(read({ stamp: ['2031-061T10:00:00', '2031-061T10:00:01'] })).toBe(
      'stamp ccsds-b scale open',
    );
    expect(read({ a: ['2031-03-02T10:00:00Z', '2031-03-02T10:00:01Z'] })).toBe('a iso8601 UTC');
    expect(read({ utc: ['2031:061:10:00:00', '2031:061:10:00:01'] })).toBe('utc ccsds-b UTC');
    expect(read({ utc: ['2031/03/02 10:00:00', '2031/03/02 10:00:01'] })).toBe('utc iso8601 UTC');
  });

  test('counts from 1970 by their size', () => {
    expect(read({ t: ['1930000000', '1930000001.5'], x: ['3', '2'] })).toBe('t unix-seconds UTC');
    expect(read({ t: ['1930000000000', '1930000001500'] })).toBe('t unix-milliseconds UTC');
    expect(read({ t: ['1930000000000000', '1930000001500000'] })).toBe('t unix-microseconds UTC');
    expect(read({ t: ['1930000000000000000', '1930000001500000000'] })).toBe(
      't unix-nanoseconds UTC',
    );
  });

  test('totals under the rows and a header that comes again are passed over, not more', () => {
    const stamps = Array.from({ length: 40 }, (_, at) => `${at / 2}`);
    expect(read({ t: [...stamps, 'Total', 'Mean'] })).toBe('t elapsed-seconds UTC');
    expect(read({ t: [...stamps.slice(0, 20), '\ufefft', ...stamps.slice(20)] })).toBe(
      't elapsed-seconds UTC',
    );
    expect(read({ t: [...stamps.slice(0, 20), 'a', 'b', 'c'] })).toBe('nothing');
  });

  // 1 January 2000 is day 36526 of a spreadsheet that begins with 1 January 1900. Common practice.
  test('days since 1900, as spreadsheets save dates, are no seconds', () => {
    const stamps = ['36526.416667', '36526.416673', '36526.416678'];
    expect(read({ Date: stamps })).toBe('Date days-since-1900 scale open');
    expect(read({ 'time 1904 UTC': stamps })).toBe('time 1904 UTC days-since-1904 UTC');
    expect(read({ mjd_utc: stamps })).toBe('mjd_utc modified-julian-date UTC');
    // A height that rises slowly is as large and no time.
    expect(read({ height: stamps })).toBe('nothing');
    const table = { columns: ['Date'], cells: [stamps] };
    // MJD 36526 is 17 November 1858 + 36,526 d, and 36,526 d after 1 January 1904 is 1 January 2004 + 1 d.
    expect(proposeTime(table)?.reason).toMatch(
      /2000-01-01 as a spreadsheet from 1900, 2004-01-02 as a spreadsheet from 1904, 1958-11-19 as a mod/,
    );
    expect(read({ t: ['36526.0', '36526.5', '36527.0'] })).toBe('t elapsed-seconds UTC');
  });

  test('seconds and milliseconds of the day by their names, over midnight too', () => {
    const since = (columns: Readonly<Record<string, readonly string[]>>) => {
      const [names, cells] = [Object.keys(columns), Object.values(columns)];
      return proposeTime({ columns: names, cells })?.since;
    };
    expect(read({ sec_of_day: ['33150.0', '33150.2'] })).toBe('sec_of_day elapsed-seconds UTC');
    expect(read({ SOD: ['86399.8', '0.0', '0.2'] })).toBe('SOD elapsed-seconds UTC');
    expect(read({ ms_of_day: ['33150000', '33150200'] })).toBe(
      'ms_of_day elapsed-milliseconds UTC',
    );
    expect(read({ msod: ['86399800', '0', '200'] })).toBe('msod elapsed-milliseconds UTC');
    expect(since({ sod: ['1', '2'] })).toBe('midnight');
    expect(since({ t: ['1', '2'] })).toBeNull();
  });

  test('weeks beside seconds of the week', () => {
    expect(read({ gps_week: ['2670', '2670'], tow_s: ['1.0', '2.0'] })).toBe(
      'gps_week+tow_s gps-week-seconds GPS',
    );
  });

  test('elapsed time needs a name or colons; a falling column is none', () => {
    expect(read({ 'elapsed [s]': ['0', '1', '2'], x: WALK })).toBe(
      'elapsed [s] elapsed-seconds UTC',
    );
    expect(read({ x: WALK, q: ['0', '1', '2'] })).toBe('nothing');
    expect(read({ met: ['003:07:45:12.5', '003:07:45:13.5'] })).toBe('met elapsed-dhms UTC');
  });

  test('a date and its time of day may stand in two columns', () => {
    const time = ['10:00:00.5', '10:00:01'];
    expect(read({ date: ['2031-03-02', '2031-03-02'], utc_time: time })).toBe(
      'date+utc_time iso8601 UTC',
    );
    expect(read({ time, day: ['2031-061', '2031-061'] })).toBe('day+time ccsds-b scale open');
    expect(read({ date: ['2031-03-02', '2031-03-02'], x: WALK })).toBe('nothing');
  });

  test('a scale in a row of units is that of the times', () => {
    const cells = [
      ['2031-04-17 09:12:30,0', '2031-04-17 09:12:30,2'],
      ['1', '2'],
    ];
    const table = { columns: ['Zeit', 'x'], cells, units: ['TAI', 'm'] };
    expect(proposeTime(table)).toMatchObject({ columns: ['Zeit'], scale: 'TAI' });
  });

  test('dates that end in the year are proposed with the order they allow', () => {
    const order = (...dates: readonly string[]) =>
      proposeTime({ columns: ['t'], cells: [dates.map((date) => `${date} 09:00`)] })?.dateOrder;
    expect(order('05/04/2031', '17/04/2031')).toBe('day-month-year');
    expect(order('04/05/2031', '04/17/2031')).toBe('month-day-year');
    expect(order('04/05/2031', '05/05/2031')).toBe('open');
    expect(order('17/04/2031', '04/17/2031')).toBeUndefined();
    expect(order('2031-04-05', '2031-04-17')).toBeNull();
  });

  test('a dated column goes before a counted one', () => {
    expect(
      read({ time_s: ['0', '1'], utc: ['2031-03-02T10:00:00Z', '2031-03-02T10:00:01Z'] }),
    ).toBe('utc iso8601 UTC');
  });
});
