/** The words in a column's name, and the unit it may carry. */
import { findUnit } from '../../units/unit';

/**
 * `words` are in lower case, the unit taken out; `unit` is a spelling that `findUnit` knows. `unread`
 * stands in brackets at the end of the name and is no unit.
 */
export type ColumnWords = Readonly<{
  words: readonly string[];
  unit: string | null;
  unread: string | null;
}>;

/** Ends of names that are units once written without a slash; common practice, no source. */
const UNIT_WORDS: ReadonlyMap<string, string> = new Map([
  ['mps', 'm/s'],
  ['ms', 'm/s'],
  ['kmps', 'km/s'],
  ['cmps', 'cm/s'],
  ['mmps', 'mm/s'],
  ['fps', 'ft/s'],
  ['ftps', 'ft/s'],
  ['ips', 'in/s'],
  ['degps', 'deg/s'],
  ['dps', 'deg/s'],
  ['radps', 'rad/s'],
  ['lbs', 'lb'],
]);

const IN_BRACKETS = /[[({]\s*([^\])}]+?)\s*[\])}]\s*$/;

/** `relPosX_m` to rel, pos, x, m: at every other sign, and where a capital follows a small letter. */
function splitWords(name: string): readonly string[] {
  return name
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .replace(/([A-Z]+)([A-Z][a-z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z0-9°%]+/)
    .filter((word) => word !== '');
}

/** Units that words in the middle of a name are: not one letter that may be anything but `m`. */
const INNER_UNITS: ReadonlySet<string> = new Set(
  [
    'm',
    'km',
    'cm',
    'mm',
    'ft',
    'feet',
    'meters',
    'metres',
    'nmi',
    'yd',
    'deg',
    'rad',
    'mrad',
  ].concat(['mps', 'kmps', 'cmps', 'mmps', 'fps', 'ftps', 'dps', 'degps', 'radps', 'kg', 'lb']),
);

type Split = Readonly<{ words: readonly string[]; unit: string }>;

/** The unit that ends a name, one or two words of it; null where it ends in none. */
function lastUnit(words: readonly string[]): Split | null {
  const perSecond = words.slice(-3).join('/').replace('/per/', '/');
  if (words.length > 3 && words.at(-2) === 'per' && findUnit(perSecond) !== null) {
    return { words: words.slice(0, -3), unit: perSecond };
  }
  const two = words.slice(-2).join('/');
  if (words.length > 2 && /^s(?:ec)?$/.test(words.at(-1) ?? '') && findUnit(two) !== null) {
    return { words: words.slice(0, -2), unit: two };
  }
  const last = words.at(-1) ?? '';
  const unit = UNIT_WORDS.get(last) ?? (findUnit(last) === null ? null : last);
  return words.length < 2 || unit === null ? null : { words: words.slice(0, -1), unit };
}

/** The one unit inside a name, `range_ft_filtered`; null where there is none or more than one. */
function innerUnit(words: readonly string[]): Split | null {
  const places = [...words.keys()].filter((at) => at > 0 && INNER_UNITS.has(words[at] ?? ''));
  const [at] = places;
  if (at === undefined || places.length > 1) return null;
  const isPerSecond = /^s(?:ec)?$/.test(words[at + 1] ?? '');
  const two = isPerSecond ? `${words[at]}/s` : null;
  const length = two !== null && findUnit(two) !== null ? 2 : 1;
  const word = words[at] ?? '';
  const unit = length === 2 && two !== null ? two : (UNIT_WORDS.get(word) ?? word);
  return { words: [...words.slice(0, at), ...words.slice(at + length)], unit };
}

/**
 * Takes a column's name apart.
 *
 * @param name as in the header, as `closing_rate [m/s]`, `posX_ft`, `body_rate.roll_dps`
 * @returns its words; the unit in brackets, or the words at its end, else inside it, that are one
 */
export function columnWords(name: string): ColumnWords {
  const bracketed = IN_BRACKETS.exec(name)?.[1] ?? null;
  if (bracketed !== null) {
    const unit = findUnit(bracketed) === null ? (UNIT_WORDS.get(bracketed) ?? null) : bracketed;
    const unread = unit === null ? bracketed : null;
    return { words: splitWords(name.replace(IN_BRACKETS, '')), unit, unread };
  }
  const words = splitWords(name);
  const split = lastUnit(words) ?? innerUnit(words) ?? { words, unit: null };
  return { ...split, unread: null };
}
