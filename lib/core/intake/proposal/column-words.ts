/** The words in a column's name, and the unit it may carry. */
import { findUnit } from '../../units/unit';

/** `words` are in lower case, the unit taken out; `unit` is a spelling that `findUnit` knows. */
export type ColumnWords = Readonly<{ words: readonly string[]; unit: string | null }>;

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

/**
 * Takes a column's name apart.
 *
 * @param name as in the header, as `closing_rate [m/s]`, `posX_ft`, `body_rate.roll_dps`
 * @returns its words; the unit in brackets, or the last words where they are a unit and not alone
 */
export function columnWords(name: string): ColumnWords {
  const bracketed = IN_BRACKETS.exec(name)?.[1] ?? null;
  if (bracketed !== null) {
    const unit = findUnit(bracketed) === null ? (UNIT_WORDS.get(bracketed) ?? null) : bracketed;
    return { words: splitWords(name.replace(IN_BRACKETS, '')), unit };
  }
  const words = splitWords(name);
  const two = words.slice(-2).join('/');
  if (words.length > 2 && words.at(-1) === 's' && findUnit(two) !== null) {
    return { words: words.slice(0, -2), unit: two };
  }
  const last = words.at(-1) ?? '';
  const unit = UNIT_WORDS.get(last) ?? (findUnit(last) === null ? null : last);
  if (words.length < 2 || unit === null) return { words, unit: null };
  return { words: words.slice(0, -1), unit };
}
