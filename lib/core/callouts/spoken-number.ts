/** Numbers in speech: digits, words, and the two mixed. */
import type { Token } from './spoken-tokens';

/** A number and how many tokens it takes. */
export type SpokenNumber = Readonly<{ value: number; length: number }>;

const ONES: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    zero: 0,
    oh: 0,
    one: 1,
    two: 2,
    three: 3,
    four: 4,
    five: 5,
    six: 6,
    seven: 7,
    eight: 8,
    nine: 9,
    niner: 9,
  }),
);
const TEENS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    ten: 10,
    eleven: 11,
    twelve: 12,
    thirteen: 13,
    fourteen: 14,
    fifteen: 15,
    sixteen: 16,
    seventeen: 17,
    eighteen: 18,
    nineteen: 19,
  }),
);
const TENS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    twenty: 20,
    thirty: 30,
    forty: 40,
    fourty: 40,
    fifty: 50,
    sixty: 60,
    seventy: 70,
    eighty: 80,
    ninety: 90,
  }),
);
const FRACTIONS: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75 };

function wordAt(tokens: readonly Token[], index: number): string {
  const token = tokens[index];
  return token?.kind === 'word' ? token.text : '';
}

function isPoint(tokens: readonly Token[], index: number): boolean {
  return ['point', 'decimal'].includes(wordAt(tokens, index));
}

/** A group that is said as one: `seven`, `fifteen`, `twenty five`, `twenty-five`. */
function readGroup(tokens: readonly Token[], index: number): SpokenNumber | null {
  const word = wordAt(tokens, index);
  const small = ONES.get(word) ?? TEENS.get(word);
  if (small !== undefined) return { value: small, length: 1 };
  const tens = TENS.get(word);
  if (tens === undefined) return null;
  const hyphen = tokens[index + 1]?.text === '-' ? 1 : 0;
  const ones = ONES.get(wordAt(tokens, index + 1 + hyphen));
  if (ones === undefined || ones === 0) return { value: tens, length: 1 };
  return { value: tens + ones, length: 2 + hyphen };
}

/** Groups said one after another: digits `one zero five`, or hundreds `one twenty`, `two fifty`. */
function joinGroups(values: readonly number[]): number | null {
  const [first = NaN, second = NaN] = values;
  if (values.length === 1) return first;
  if (values.every((value) => value < 10)) return Number(values.join(''));
  const isHundreds = values.length === 2 && first >= 1 && first < 100 && second >= 10;
  return isHundreds && first < 10 ? first * 100 + second : null;
}

/** `two hundred and five`, `a thousand`: from the groups before and after the big word. */
function readCardinal(tokens: readonly Token[], index: number): SpokenNumber | null {
  let total = 0;
  let current = 0;
  let next = index;
  let hasBig = false;
  for (;;) {
    const word = wordAt(tokens, next);
    if (word === 'hundred' || word === 'thousand') {
      const factor = word === 'hundred' ? 100 : 1000;
      if (word === 'thousand') {
        total += (current === 0 ? 1 : current) * factor;
        current = 0;
      } else current = (current === 0 ? 1 : current) * factor;
      hasBig = true;
      next += 1;
      continue;
    }
    const skip = hasBig && word === 'and' ? 1 : 0;
    const group = readGroup(tokens, next + skip);
    if (group === null || (current > 0 && current % 100 !== 0)) break;
    current += group.value;
    next += skip + group.length;
  }
  return hasBig ? { value: total + current, length: next - index } : null;
}

function readWholeWords(tokens: readonly Token[], index: number): SpokenNumber | null {
  const article = ['a', 'an'].includes(wordAt(tokens, index)) ? 1 : 0;
  const bigNext = ['hundred', 'thousand'].includes(wordAt(tokens, index + article));
  const cardinal = article === 1 && !bigNext ? null : readCardinal(tokens, index + article);
  if (cardinal !== null) return { value: cardinal.value, length: cardinal.length + article };
  const values: number[] = [];
  let next = index;
  for (let group = readGroup(tokens, next); group !== null; group = readGroup(tokens, next)) {
    values.push(group.value);
    next += group.length;
  }
  if (values.length === 0) return null;
  const value = joinGroups(values);
  return value === null ? null : { value, length: next - index };
}

/** Digits after `point`: `two five`, `twenty five`, `zero seven`. */
function readDecimals(tokens: readonly Token[], index: number): SpokenNumber | null {
  let digits = '';
  let next = index;
  for (let group = readGroup(tokens, next); group !== null; group = readGroup(tokens, next)) {
    digits += String(group.value);
    next += group.length;
  }
  const token = tokens[next];
  if (digits === '' && token?.kind === 'number' && /^\d+$/.test(token.text)) {
    digits = token.text;
    next += 1;
  }
  return digits === '' ? null : { value: Number(`0.${digits}`), length: next - index };
}

function readDigits(tokens: readonly Token[], index: number): SpokenNumber | null {
  const token = tokens[index];
  if (token?.kind !== 'number') return null;
  const sign = FRACTIONS[token.text];
  if (sign !== undefined) return { value: sign, length: 1 };
  const isThousands = /^\d{1,3}(,\d{3})+/.test(token.text);
  const value = Number(isThousands ? token.text.replaceAll(',', '') : token.text.replace(',', '.'));
  const fraction = FRACTIONS[tokens[index + 1]?.text ?? ''] ?? readRatio(tokens, index + 1);
  if (tokens[index + 1]?.text === '/') {
    const below = Number(tokens[index + 2]?.text);
    return below > 0 && below < 100 ? { value: value / below, length: 3 } : null;
  }
  if (fraction === null) return { value, length: 1 };
  return { value: value + fraction, length: tokens[index + 2]?.text === '/' ? 4 : 2 };
}

/** `1/2` behind a whole number, as in `2 1/2`. */
function readRatio(tokens: readonly Token[], index: number): number | null {
  const [above, slash, below] = tokens.slice(index, index + 3);
  if (above?.kind !== 'number' || slash?.text !== '/' || below?.kind !== 'number') return null;
  const ratio = Number(above.text) / Number(below.text);
  return ratio > 0 && ratio < 1 ? ratio : null;
}

/** `and a half`, `and three quarters` behind a number. */
function readPartBehind(tokens: readonly Token[], index: number): SpokenNumber | null {
  const words = [0, 1, 2].map((step) => wordAt(tokens, index + step)).join(' ');
  if (words === 'and a half') return { value: 0.5, length: 3 };
  if (words === 'and a quarter') return { value: 0.25, length: 3 };
  return words === 'and three quarters' ? { value: 0.75, length: 3 } : null;
}

const PARTS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    tenth: 0.1,
    tenths: 0.1,
    hundredth: 0.01,
    hundredths: 0.01,
    quarter: 0.25,
    quarters: 0.25,
  }),
);

/** `three tenths`, `a quarter`: so many parts; null where no parts follow. */
function readParts(tokens: readonly Token[], index: number): SpokenNumber | null {
  const article = ['a', 'an'].includes(wordAt(tokens, index)) ? 1 : 0;
  const count = article === 1 ? { value: 1, length: 1 } : readGroup(tokens, index);
  if (count === null) return null;
  const part = PARTS.get(wordAt(tokens, index + count.length));
  return part === undefined ? null : { value: count.value * part, length: count.length + 1 };
}

/** `15K`: thousands, as written of feet. */
function readThousands(tokens: readonly Token[], index: number): SpokenNumber | null {
  const token = tokens[index];
  if (token?.kind !== 'number' || wordAt(tokens, index + 1) !== 'k') return null;
  const value = Number(token.text.replaceAll(',', ''));
  return Number.isFinite(value) ? { value: value * 1000, length: 2 } : null;
}

/**
 * The number that starts at a token.
 *
 * Taken are digits (`200`, `10,000`, `0,25`, `2 1/2`), words (`two hundred and five`, `one twenty`,
 * `two zero zero`, `point two five`, `two and a half`, `three tenths`), `15K` and `half`.
 *
 * @returns value and length in tokens; null where no number starts
 */
export function readNumber(tokens: readonly Token[], index: number): SpokenNumber | null {
  if (wordAt(tokens, index) === 'half') {
    return { value: 0.5, length: wordAt(tokens, index + 1) === 'a' ? 2 : 1 };
  }
  const parts = readParts(tokens, index) ?? readThousands(tokens, index);
  if (parts !== null) return parts;
  if (isPoint(tokens, index)) {
    const decimals = readDecimals(tokens, index + 1);
    return decimals === null ? null : { value: decimals.value, length: decimals.length + 1 };
  }
  const whole = readDigits(tokens, index) ?? readWholeWords(tokens, index);
  if (whole === null) return null;
  const after = index + whole.length;
  if (isPoint(tokens, after)) {
    const decimals = readDecimals(tokens, after + 1);
    if (decimals !== null) {
      return { value: whole.value + decimals.value, length: whole.length + 1 + decimals.length };
    }
  }
  const part = readPartBehind(tokens, after);
  return part === null
    ? whole
    : { value: whole.value + part.value, length: whole.length + part.length };
}
