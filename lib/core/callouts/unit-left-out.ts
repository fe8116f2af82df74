/** Numbers spoken without their unit: `Range 150.`, `Inside 15K.`, `Now 230.` */
import { findUnit } from '../units/unit';
import type { Measure } from './spoken-measure';
import { readNumber } from './spoken-number';
import { isClauseMark, type Token } from './spoken-tokens';

/** The last certain value of a kind, SI, with the factor of its unit. */
export type LastValue = Readonly<{ valueSi: number; toSi: number }>;

/** What the log said before: a number without a unit is taken in the unit of the last value. */
export type SaidBefore = Readonly<{ range: LastValue | null; rate: LastValue | null }>;

/** A measure whose unit is a guess; `isNamed` where the words say which quantity it is. */
export type GuessedMeasure = Measure & Readonly<{ isNamed: boolean }>;

type Kind = Measure['kind'];

/** Right before the number; `fills` may stand between. */
const NAMED: readonly (readonly [Kind, RegExp])[] = [
  [
    'rate',
    /\b(?:range rate|rate|closure|closing|closing at|closing rate)(?: (?:is|now|at|about))*$/,
  ],
  ['range', /\b(?:range|passing|inside|distance)(?: (?:is|now|at|about))*$/],
];
const LOOSE = /(?:^|\b)(?:now|we're at|we are at|you're at|you are at)(?: about)?$/;
/** Right behind it, up to the end of the clause. */
const BEHIND = /^(?:now|coming up|and closing|closing|and counting|to go)?$/;
const LOOSE_BEHIND = /^(?:now|coming up)$/;
/** A bare number beyond this factor of the last value is another quantity. */
const NEAR_FACTOR = 2;
/** `15K` before any unit was spoken: thousands of feet, and doubtful. */
const FEET = findUnit('ft')?.toSi ?? NaN;

function wordsBefore(tokens: readonly Token[], index: number): string {
  let first = index;
  while (first > 0 && !isClauseMark(tokens[first - 1]) && index - first < 5) first -= 1;
  return tokens
    .slice(first, index)
    .map(({ text }) => text)
    .join(' ');
}

function wordsBehind(tokens: readonly Token[], index: number): string {
  let last = index;
  while (last < tokens.length && !isClauseMark(tokens[last])) last += 1;
  return tokens
    .slice(index, last)
    .filter(({ kind }) => kind !== 'mark')
    .map(({ text }) => text)
    .join(' ');
}

/** How far a number is from a value, as a factor of 1 or more. */
function factorFrom(value: number, last: LastValue | null): number {
  if (last === null || value <= 0) return Number.POSITIVE_INFINITY;
  const ratio = (value * last.toSi) / Math.abs(last.valueSi);
  return Math.max(ratio, 1 / ratio);
}

/** The kind that a loosely placed number is nearest to; null where it is near neither. */
function nearestKind(value: number, said: SaidBefore): Kind | null {
  const range = factorFrom(value, said.range);
  const rate = factorFrom(value, said.rate);
  if (Math.min(range, rate) > NEAR_FACTOR) return null;
  return range <= rate ? 'range' : 'rate';
}

function kindOf(
  tokens: readonly Token[],
  at: Readonly<{ start: number; end: number; value: number }>,
  said: SaidBefore,
): Readonly<{ kind: Kind; isNamed: boolean; isThousands: boolean }> | null {
  const before = wordsBefore(tokens, at.start);
  const behind = wordsBehind(tokens, at.end);
  const isThousands = tokens[at.end - 1]?.text === 'k';
  if (isThousands && /\b(?:inside|at|range|passing)(?: about)?$/.test(before)) {
    return { kind: 'range', isNamed: !before.endsWith('at'), isThousands };
  }
  if (!BEHIND.test(behind)) return null;
  const named = NAMED.find(([, form]) => form.test(before));
  if (named !== undefined) return { kind: named[0], isNamed: true, isThousands };
  const isLoose = LOOSE.test(before) || (before === '' && LOOSE_BEHIND.test(behind));
  const kind = isLoose ? nearestKind(at.value, said) : null;
  return kind === null ? null : { kind, isNamed: false, isThousands };
}

/**
 * Numbers of a sentence that stand for a range or a rate though no unit follows.
 *
 * Only where the words right before or behind ask for one (`range`, `passing`, `inside`, `rate`,
 * `now`, `coming up`) and nothing else follows in the clause; a number after `now` also must be
 * within a factor of two of the last range or rate. The unit is that of the last certain value.
 *
 * @param said what the log said before; a kind it never gave a unit for is not guessed
 * @param taken measures with a unit, which are passed over
 */
export function findUnitLeftOut(
  tokens: readonly Token[],
  said: SaidBefore,
  taken: readonly Measure[],
): readonly GuessedMeasure[] {
  const measures: GuessedMeasure[] = [];
  for (let start = 0; start < tokens.length; start += 1) {
    const number = readNumber(tokens, start);
    if (number === null) continue;
    const end = start + number.length;
    const isTaken = taken.some((measure) => start < measure.end && end > measure.start);
    const found = isTaken ? null : kindOf(tokens, { start, end, value: number.value }, said);
    if (found !== null) {
      const { kind, isThousands } = found;
      const known = said[kind]?.toSi;
      const toSi = known ?? (isThousands ? FEET : null);
      if (toSi !== null) {
        const isNamed = found.isNamed && known !== undefined;
        measures.push({
          kind,
          isNamed,
          valueSi: number.value * toSi,
          toSi,
          isVague: false,
          start,
          end,
        });
      }
    }
    start = end - 1;
  }
  return measures;
}
