/** A leap-second list of the IERS, read and checked. */
import type { Issue, Parsed } from '../result';
import { DAY_S, dateFromDay } from './calendar';
import { BUILT_IN_LEAP_TABLE, dayWords, type LeapEntry, type LeapTable } from './leap-table';

/** Seconds from 1900-01-01 to 1970-01-01, which the list counts from; RFC 5905, figure 4. */
const NTP_TO_UNIX_S = 2_208_988_800;

type Pair = Readonly<{ line: number; ntpS: number; taiMinusUtcS: number }>;

type Contents = Readonly<{
  updated: string;
  expires: string;
  hash: string;
  pairs: readonly Pair[];
  /** 1-based; null where every line is a remark, a pair or blank. */
  strangeLine: number | null;
}>;

function readContents(text: string): Contents {
  let [updated, expires, hash] = ['', '', ''];
  const pairs: Pair[] = [];
  let strangeLine: number | null = null;
  text.split(/\r\n|\n|\r/).forEach((content, index) => {
    const special = /^#([$@h])\s+(.*)$/.exec(content);
    const pair = /^\s*(\d+)\s+(\d+)\s*(?:#.*)?$/.exec(content);
    if (special !== null) {
      const value = (special[2] ?? '').trim();
      if (special[1] === '$') updated = value;
      else if (special[1] === '@') expires = value;
      else hash = value;
    } else if (pair !== null) {
      pairs.push({ line: index + 1, ntpS: Number(pair[1]), taiMinusUtcS: Number(pair[2]) });
    } else if (content.trim() !== '' && !content.startsWith('#')) strangeLine ??= index + 1;
  });
  return { updated, expires, hash, pairs, strangeLine };
}

type Fault = Omit<Issue, 'severity' | 'file'>;

function fault(code: string, message: string, line?: number): Fault {
  return { code, message, ...(line === undefined ? {} : { line }) };
}

/** The five groups of eight digits; leading zeros of a group may be left out. */
function hashDigits(hash: string): string {
  const groups = hash.toLowerCase().split(/\s+/);
  return groups.map((group) => group.padStart(8, '0')).join('');
}

/** What is wrong with the form of the list or with its hash. */
function formFault(contents: Contents, sha1: (text: string) => string): Fault | null {
  const { updated, expires, hash, pairs, strangeLine } = contents;
  if (strangeLine !== null) {
    return fault(
      'leap-list-line',
      'is no remark and no pair of NTP seconds and TAI - UTC',
      strangeLine,
    );
  }
  for (const [mark, value] of [
    ['#$', updated],
    ['#@', expires],
  ] as const) {
    if (!/^\d+$/.test(value)) {
      return fault('leap-list-form', `has no line ${mark} with a date in NTP seconds`);
    }
  }
  if (hash === '') return fault('leap-list-form', 'has no line #h with its hash');
  const hashed = pairs.map(({ ntpS, taiMinusUtcS }) => `${ntpS}${taiMinusUtcS}`).join('');
  const found = sha1(`${updated}${expires}${hashed}`);
  if (found === hashDigits(hash)) return null;
  const message = `does not fit its own hash: it gives ${found}, the line #h says ${hashDigits(hash)}; fetch the list again`;
  return fault('leap-list-hash', message);
}

/** What is wrong with the entries one after the other. */
function entriesFault(pairs: readonly Pair[], entries: readonly LeapEntry[]): Fault | null {
  for (const [at, { day, taiMinusUtcS }] of entries.entries()) {
    const before = entries[at - 1];
    const line = pairs[at]?.line;
    if (!Number.isInteger(day) || dateFromDay(day).dayOfMonth !== 1) {
      return fault('leap-list-day', 'a leap second takes effect at the start of a month', line);
    }
    const isStep =
      before === undefined ||
      (day > before.day && Math.abs(taiMinusUtcS - before.taiMinusUtcS) === 1);
    if (!isStep) {
      return fault(
        'leap-list-order',
        'days must ascend, with one second from each to the next',
        line,
      );
    }
  }
  const known = BUILT_IN_LEAP_TABLE.entries;
  const differing = known.findIndex((entry, at) => {
    const other = entries[at];
    return other?.day !== entry.day || other.taiMinusUtcS !== entry.taiMinusUtcS;
  });
  if (differing < 0) return null;
  const { day, taiMinusUtcS } = known[differing] ?? { day: 0, taiMinusUtcS: 0 };
  const message = `must hold TAI - UTC = ${taiMinusUtcS} s from ${dayWords(day)} on, as the built-in table does`;
  return fault('leap-list-differs', message, pairs[differing]?.line);
}

/**
 * Reads a list in the form of `leap-seconds.list`: pairs of NTP seconds and TAI - UTC, the lines
 * `#$` (updated), `#@` (expires) and `#h` (SHA-1 over the digits of those and of the pairs).
 *
 * @param text the whole list
 * @param fileName for the issue
 * @param sha1 SHA-1 of a text in hexadecimal digits
 * @returns the table; null with one error where the list does not fit its hash, does not ascend by
 *   single seconds, lacks what the built-in table holds, or does not reach further than it
 *
 * Source: the remarks in the IERS's `leap-seconds.list`; RFC 5905 for the epoch 1900.
 */
export function readLeapList(
  text: string,
  fileName: string,
  sha1: (text: string) => string,
): Parsed<LeapTable> {
  const contents = readContents(text);
  const { pairs, expires } = contents;
  const dayOf = (ntpS: number): number => (ntpS - NTP_TO_UNIX_S) / DAY_S;
  const entries = pairs.map(({ ntpS, taiMinusUtcS }) => ({ day: dayOf(ntpS), taiMinusUtcS }));
  const expiresDay = Math.floor(dayOf(Number(expires)));
  const wrong = formFault(contents, sha1) ?? entriesFault(pairs, entries) ?? ageFault(expiresDay);
  if (wrong !== null) {
    return { value: null, issues: [{ severity: 'error', file: fileName, ...wrong }] };
  }
  return {
    value: { id: `list ${hashDigits(contents.hash)}`, entries, expiresDay },
    issues: [],
  };
}

function ageFault(expiresDay: number): Fault | null {
  const { expiresDay: ours } = BUILT_IN_LEAP_TABLE;
  if (expiresDay > ours) return null;
  const message = `ends on ${dayWords(expiresDay)} and is no newer than the built-in table, which ends on ${dayWords(ours)}`;
  return fault('leap-list-old', message);
}
