/** Ranges and closing rates that people spoke, read from the words of a log. */
import type { LogEntry } from '../session/session-input';
import { readNumber } from './spoken-number';
import {
  isClauseMark,
  readTokens,
  type Sentence,
  splitSentences,
  type Token,
} from './spoken-tokens';
import { readSpokenUnit } from './spoken-unit';
import {
  CLAUSE_DOUBT_WORDS,
  DOUBT_WORDS,
  MOVING_WORDS,
  ONLY_BEHIND,
  OPENING_WORDS,
  OTHER_WORDS,
  PASSED_PLACES,
  PASSING_WORDS,
  PLACE_WORDS,
  RANGE_WORDS,
  RATE_WORDS,
} from './vocabulary';

/**
 * A spoken range (m) or closing rate (m/s, negative where the words say it opens).
 *
 * `doubtful` marks what may not be a report of the moment, `reason` says why in words. `entryIndex`
 * points into the entries given; `sourceS` is that entry's time on its source's own clock.
 */
export type SpokenValue = Readonly<{
  kind: 'range' | 'rate';
  valueSi: number;
  text: string;
  doubtful: boolean;
  reason: string | null;
  entryIndex: number;
  sourceS: number;
}>;

/** A number with its unit at a place in a sentence. */
type Measure = Readonly<{
  kind: 'range' | 'rate';
  valueSi: number;
  isVague: boolean;
  start: number;
  end: number;
}>;

function findMeasures(tokens: readonly Token[]): readonly Measure[] {
  const measures: Measure[] = [];
  for (let index = 0; index < tokens.length; index += 1) {
    const number = readNumber(tokens, index);
    if (number === null) continue;
    const unitAt = index + number.length;
    const unit = readSpokenUnit(tokens, unitAt);
    const end = unitAt + (unit?.length ?? 0);
    if (unit !== null && !isDuration(tokens, unitAt, end)) {
      const { kind, isVague } = unit;
      measures.push({ kind, isVague, valueSi: number.value * unit.toSi, start: index, end });
    }
    index = end - 1;
  }
  return measures;
}

/** `5 m 30 s` are minutes. */
function isDuration(tokens: readonly Token[], unitAt: number, end: number): boolean {
  const next = readNumber(tokens, end);
  if (tokens[unitAt]?.text !== 'm' || next === null) return false;
  return ['s', 'sec', 'seconds'].includes(tokens[end + next.length]?.text ?? '');
}

/** The clause round a measure, without the measures themselves. */
function clauseOf(tokens: readonly Token[], measure: Measure): readonly Token[] {
  let first = measure.start;
  while (first > 0 && !isClauseMark(tokens[first - 1])) first -= 1;
  let last = measure.end;
  while (last < tokens.length && !isClauseMark(tokens[last])) last += 1;
  return [...tokens.slice(first, measure.start), ...tokens.slice(measure.end, last)];
}

const wordsOf = (tokens: readonly Token[]) => tokens.filter((token) => token.kind === 'word');

/** True where the number stands for a place or a thing: `the 30 m hold`, `a 5 m wide corridor`. */
function namesPlace(tokens: readonly Token[], measure: Measure): boolean {
  const place = tokens[measure.end]?.text ?? '';
  if (measure.kind !== 'range' || !PLACE_WORDS.has(place)) return false;
  const before = tokens.slice(Math.max(0, measure.start - 2), measure.start);
  return !(PASSED_PLACES.has(place) && before.some((token) => PASSING_WORDS.has(token.text)));
}

/** A word the clause may hold besides known ones: a name, capitalised, not opening the sentence. */
function isName(token: Token, sentence: Sentence): boolean {
  const index = sentence.tokens.indexOf(token);
  if (!/^[A-Z]/.test(token.raw)) return false;
  return index > 0 || MOVING_WORDS.has(sentence.tokens[1]?.text ?? '');
}

/** Why a measure may not be a report of the moment; null where nothing speaks against it. */
function doubtOf(
  sentence: Sentence,
  measure: Measure,
  measures: readonly Measure[],
): string | null {
  const clause = wordsOf(clauseOf(sentence.tokens, measure));
  const said = wordsOf(sentence.tokens);
  if (sentence.isQuestion) return 'a question';
  const bound = clause.find((token) => CLAUSE_DOUBT_WORDS.has(token.text));
  if (bound !== undefined) return `denied or a bound ("${bound.raw}")`;
  const doubt = said.find((token) => DOUBT_WORDS.has(token.text));
  if (doubt !== undefined) return `not clearly of the moment ("${doubt.raw}")`;
  if (measure.isVague) return 'miles may be statute or nautical';
  if (measures.filter((other) => other.kind === measure.kind).length > 1)
    return 'more than one value in a sentence';
  const known = measure.kind === 'range' ? RANGE_WORDS : RATE_WORDS;
  const unknown = clause.find(
    (token) => !isKnown(token, sentence, known) && !isName(token, sentence),
  );
  return unknown === undefined ? null : `unclear word ("${unknown.raw}")`;
}

function isKnown(token: Token, sentence: Sentence, known: ReadonlySet<string>): boolean {
  const needed = ONLY_BEHIND.get(token.text);
  if (needed === undefined) return known.has(token.text);
  return sentence.tokens[sentence.tokens.indexOf(token) - 1]?.text === needed;
}

function readSentence(sentence: Sentence): readonly (Measure & { reason: string | null })[] {
  const { tokens } = sentence;
  const measures = findMeasures(tokens).filter((measure) => {
    if (namesPlace(tokens, measure)) return false;
    return !wordsOf(clauseOf(tokens, measure)).some((token) => OTHER_WORDS.has(token.text));
  });
  return measures.map((measure) => {
    const clause = wordsOf(clauseOf(tokens, measure));
    const isOpening =
      measure.kind === 'rate' && clause.some((token) => OPENING_WORDS.has(token.text));
    return {
      ...measure,
      valueSi: isOpening ? -measure.valueSi : measure.valueSi,
      reason: doubtOf(sentence, measure, measures),
    };
  });
}

/**
 * Finds ranges and closing rates in the words of a log.
 *
 * Numbers with another meaning (pages, steps, hooks, a zoom, an angle, a width, a place such as the
 * hold at 30 m) are left out; a number without a unit is too. What has the form of a report but may
 * not be one of the moment (a question, an order, something expected, denied, past, or between two
 * values) is kept and marked doubtful.
 *
 * @param entries a log's entries
 * @returns the spoken values in the order of the entries
 *
 * Valid: English. Common practice, no source.
 */
export function findCallouts(entries: readonly LogEntry[]): readonly SpokenValue[] {
  return entries.flatMap(({ text, sourceS }, entryIndex) => {
    if (text === null) return [];
    return splitSentences(readTokens(text))
      .flatMap(readSentence)
      .map(({ kind, valueSi, reason }) => ({
        kind,
        valueSi,
        text,
        doubtful: reason !== null,
        reason,
        entryIndex,
        sourceS,
      }));
  });
}
