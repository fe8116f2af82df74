/**
 * Clocks of twelve hours, in columns and in front of lines.
 *
 * Source: POSIX.1-2017, strftime: `%I` is the hour 01 to 12, `%p` AM or PM; that 12 AM is midnight and
 * 12 PM noon is common practice.
 */
import { expect, test } from 'vitest';
import { readStampedLines } from '@/lib/core/intake/formats/stamped-lines';
import { proposeLineTime } from '@/lib/core/intake/proposal/line-time';
import { proposeTime } from '@/lib/core/intake/proposal/time-proposal';
import { hasHalfDay, withFullDay } from '@/lib/core/time/half-day';
import { stampSeconds } from '@/lib/core/time/stamp-reader';

const ZERO = { taiNs: 0n };
const CLOCK = { columns: ['t'], code: 'elapsed-dhms', scale: 'UTC', from: ZERO } as const;

test.each([
  ['12:00:00 AM', '00:00:00'],
  ['12:30:00 AM', '00:30:00'],
  ['1:05:10 a.m.', '01:05:10'],
  ['12:00:00 PM', '12:00:00'],
  ['1:05:10.25pm', '13:05:10.25'],
  ['[11:59:59 PM] CREW: ready', '[23:59:59] CREW: ready'],
  ['04/06/2027 01:05:10 PM PLT: ready', '04/06/2027 13:05:10 PLT: ready'],
  ['13:05:10 CREW: pm', '13:05:10 CREW: pm'],
])('%s is %s', (written, full) => {
  expect(withFullDay(written)).toBe(full);
});

test('an hour that a clock of twelve hours does not have is none', () => {
  expect(withFullDay('13:05:10 PM')).toBeNull();
  expect(withFullDay('0:05:10 AM')).toBeNull();
  expect(stampSeconds('13:05:10 PM', CLOCK, ZERO)).toBeNaN();
  expect(hasHalfDay('1:05:10 PLT: am ready')).toBe(false);
});

test('a column of such times is read, and proposed as times of the day', () => {
  expect(stampSeconds('1:05:10.5 PM', CLOCK, ZERO)).toBe(13 * 3600 + 5 * 60 + 10.5);
  const cells = [['12:59:59 PM', '1:00:00 PM', '1:00:01 PM']];
  const proposed = proposeTime({ columns: ['Clock'], cells });
  expect(proposed).toMatchObject({ code: 'elapsed-dhms', since: 'midnight' });
});

test('lines of a log that begin with such times keep their halves of the day', () => {
  const text =
    '11:59:50 AM CDR: Range 900 feet.\n12:00:10 PM PLT: Closing.\n1:05:10 PM CDR: Contact.\n';
  const log = readStampedLines({ text, fileName: 'notes.txt', time: CLOCK, zero: ZERO });
  expect(log.value?.entries.map(({ sourceS, speaker }) => [sourceS, speaker])).toEqual([
    [43190, 'CDR'],
    [43210, 'PLT'],
    [47110, 'CDR'],
  ]);
  expect(proposeLineTime(text.trim().split('\n'))).toMatchObject({
    code: 'elapsed-dhms',
    since: 'midnight',
  });
});

test('a scale in brackets behind the name of a column is its scale', () => {
  const cells = [['2031-03-02 10:00:00', '2031-03-02 10:00:01', '2031-03-02 10:00:02']];
  expect(proposeTime({ columns: ['Time (UTC)'], cells })?.scale).toBe('UTC');
  expect(proposeTime({ columns: ['Time [GPS]'], cells })?.scale).toBe('GPS');
  expect(proposeTime({ columns: ['Time (local)'], cells })?.scale).toBeNull();
});

test('a line of very many spaces is no such time, and costs no minutes', () => {
  expect(hasHalfDay(' '.repeat(300_000))).toBe(false);
  expect(withFullDay(' '.repeat(300_000))).toHaveLength(300_000);
}, 5000);
