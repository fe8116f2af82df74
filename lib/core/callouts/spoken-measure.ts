/** Numbers with a unit in a sentence. */
import { readNumber } from './spoken-number';
import { isClauseMark, type Token } from './spoken-tokens';
import { readSpokenUnit } from './spoken-unit';

/**
 * A number with its unit at a place in a sentence, `[start, end)` in tokens. `toSi` is the unit's
 * factor (1 where `valueSi` is in SI already).
 */
export type Measure = Readonly<{
  kind: 'range' | 'rate';
  valueSi: number;
  toSi: number;
  isVague: boolean;
  start: number;
  end: number;
}>;

/** `5 m 30 s` are minutes. */
function isDuration(tokens: readonly Token[], unitAt: number, end: number): boolean {
  const next = readNumber(tokens, end);
  if (tokens[unitAt]?.text !== 'm' || next === null) return false;
  return ['s', 'sec', 'seconds'].includes(tokens[end + next.length]?.text ?? '');
}

/** Every number of a sentence that a unit of range or rate follows, in order. */
export function findMeasures(tokens: readonly Token[]): readonly Measure[] {
  const measures: Measure[] = [];
  for (let index = 0; index < tokens.length; index += 1) {
    const number = readNumber(tokens, index);
    if (number === null) continue;
    const unitAt = index + number.length;
    const unit = readSpokenUnit(tokens, unitAt);
    const end = unitAt + (unit?.length ?? 0);
    if (unit !== null && !isDuration(tokens, unitAt, end)) {
      const { kind, isVague, toSi } = unit;
      measures.push({ kind, isVague, toSi, valueSi: number.value * toSi, start: index, end });
    }
    index = end - 1;
  }
  return measures;
}

/** Words of the clause round a measure, without those of any measure. */
export function clauseWords(
  tokens: readonly Token[],
  measure: Measure,
  measures: readonly Measure[],
): readonly Token[] {
  let first = measure.start;
  while (first > 0 && !isClauseMark(tokens[first - 1])) first -= 1;
  let last = measure.end;
  while (last < tokens.length && !isClauseMark(tokens[last])) last += 1;
  return tokens.filter((token, index) => {
    if (index < first || index >= last || token.kind !== 'word') return false;
    return !measures.some(({ start, end }) => index >= start && index < end);
  });
}
