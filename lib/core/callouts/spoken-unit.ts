/** Units of range and of rate in speech. */
import { findUnit } from '../units/unit';
import type { Token } from './spoken-tokens';

/** `toSi` to metres or metres per second; `isVague` where the word has more than one meaning. */
export type SpokenUnit = Readonly<{
  kind: 'range' | 'rate';
  toSi: number;
  length: number;
  isVague: boolean;
}>;

/** Word to the spelling that the table of units knows. */
const LENGTHS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    m: 'm',
    meter: 'm',
    meters: 'm',
    metre: 'm',
    metres: 'm',
    km: 'km',
    kilometer: 'km',
    kilometers: 'km',
    kilometre: 'km',
    kilometres: 'km',
    cm: 'cm',
    centimeter: 'cm',
    centimeters: 'cm',
    centimetre: 'cm',
    centimetres: 'cm',
    mm: 'mm',
    millimeters: 'mm',
    millimetres: 'mm',
    ft: 'ft',
    foot: 'ft',
    feet: 'ft',
    inch: 'in',
    inches: 'in',
    yard: 'yd',
    yards: 'yd',
    mile: 'nmi',
    miles: 'nmi',
    nmi: 'nmi',
    nm: 'nmi',
  }),
);

const SPEEDS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({ mps: 'm/s', fps: 'ft/s' }),
);

const SECONDS_PER: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    s: 1,
    sec: 1,
    second: 1,
    min: 60,
    minute: 60,
  }),
);

function text(tokens: readonly Token[], index: number): string {
  return tokens[index]?.text ?? '';
}

/** `per second`, `a second`, `/s`: seconds and tokens; null where no time follows. */
function readPer(
  tokens: readonly Token[],
  index: number,
): Readonly<{ seconds: number; length: number }> | null {
  if (!['per', 'a', '/'].includes(text(tokens, index))) return null;
  const seconds = SECONDS_PER.get(text(tokens, index + 1));
  // `we were at 80 metres a minute ago` tells a time.
  const isPast = text(tokens, index + 2) === 'ago';
  return seconds === undefined || isPast ? null : { seconds, length: 2 };
}

/** What may stand between a number and its unit: a hyphen (`30-metre`), `of a` (`a tenth of a foot`). */
function leadLength(tokens: readonly Token[], index: number): number {
  if (text(tokens, index) === '-') return 1;
  if (text(tokens, index) !== 'of') return 0;
  return ['a', 'an'].includes(text(tokens, index + 1)) ? 2 : 1;
}

/**
 * The unit that starts at a token, with a hyphen or `of a` before it.
 *
 * `miles` alone is taken as nautical and marked vague. An acceleration is no rate.
 *
 * @returns unit and length in tokens; null where none starts
 */
export function readSpokenUnit(tokens: readonly Token[], index: number): SpokenUnit | null {
  const lead = leadLength(tokens, index);
  const mile = text(tokens, index + lead);
  const named = ['nautical', 'statute'].includes(mile) ? 1 : 0;
  const start = index + lead + named;
  const word = text(tokens, start);
  const speed = SPEEDS.get(word);
  if (speed !== undefined) {
    return {
      kind: 'rate',
      toSi: findUnit(speed)?.toSi ?? NaN,
      length: start + 1 - index,
      isVague: false,
    };
  }
  const known = LENGTHS.get(word);
  if (known === undefined) return null;
  const spelling = mile === 'statute' && known === 'nmi' ? 'mi' : known;
  const toSi = findUnit(spelling)?.toSi ?? NaN;
  const isVague = spelling === 'nmi' && named === 0 && word.startsWith('mile');
  const per = readPer(tokens, start + 1);
  if (per === null) return { kind: 'range', toSi, length: start + 1 - index, isVague };
  const after = start + 1 + per.length;
  if (text(tokens, after) === 'squared' || readPer(tokens, after) !== null) return null;
  return { kind: 'rate', toSi: toSi / per.seconds, length: after - index, isVague };
}
