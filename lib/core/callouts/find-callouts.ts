/** Ranges and closing rates that people spoke, read from the words of a log. */
import type { LogEntry } from '../session/session-input';
import { clauseWords, findMeasures, type Measure } from './spoken-measure';
import { readTokens, type Sentence, splitSentences, type Token } from './spoken-tokens';
import { findUnitLeftOut, type SaidBefore } from './unit-left-out';
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

const wordsOf = (tokens: readonly Token[]) => tokens.filter((token) => token.kind === 'word');

/** Why a measure may not be a report of the moment; null where nothing speaks against it. */
function doubtOf(
  sentence: Sentence,
  measure: Measure,
  measures: readonly Measure[],
): string | null {
  const clause = clauseWords(sentence.tokens, measure, measures);
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

type Judged = Measure & Readonly<{ reason: string | null }>;

/** A rate that opens the distance is negative. */
function signed(measure: Measure, clause: readonly Token[]): number {
  const isOpening =
    measure.kind === 'rate' &&
    clause.some((token) => OPENING_WORDS.has(token.text)) &&
    !clause.some((token) => token.text.startsWith('clos'));
  return isOpening ? -measure.valueSi : measure.valueSi;
}

/** Measures of a sentence that are no place, no thing and no other quantity. */
function readSentence(sentence: Sentence, said: SaidBefore): readonly Judged[] {
  const { tokens } = sentence;
  const isOther = (measure: Measure, all: readonly Measure[]) =>
    namesPlace(tokens, measure) ||
    clauseWords(tokens, measure, all).some((token) => OTHER_WORDS.has(token.text));
  const withUnit = findMeasures(tokens);
  const guessed = findUnitLeftOut(tokens, said, withUnit);
  const all = [...withUnit, ...guessed].sort((a, b) => a.start - b.start);
  const kept = all.filter((measure) => !isOther(measure, all));
  return kept.map((measure) => {
    const isLoose = guessed.some((one) => one.start === measure.start && !one.isNamed);
    const reason = doubtOf(sentence, measure, kept);
    return {
      ...measure,
      valueSi: signed(measure, clauseWords(tokens, measure, all)),
      reason: reason ?? (isLoose ? 'neither quantity nor unit is named' : null),
    };
  });
}

/**
 * Finds ranges and closing rates in the words of a log.
 *
 * Numbers with another meaning (pages, steps, hooks, a zoom, an angle, a width, a place such as the
 * hold at 30 m) are left out. A number without a unit counts where the words ask for a range or a
 * rate, in the unit of the last certain one. What has the form of a report but may not be one of the
 * moment (a question, an order, something expected, denied, past, or between two values) is kept and
 * marked doubtful.
 *
 * @param entries a log's entries, by time
 * @returns the spoken values in the order of the entries
 *
 * Valid: English. Common practice, no source.
 */
export function findCallouts(entries: readonly LogEntry[]): readonly SpokenValue[] {
  const values: SpokenValue[] = [];
  let said: SaidBefore = { range: null, rate: null };
  entries.forEach(({ text, sourceS }, entryIndex) => {
    if (text === null || !mayHoldNumber(text)) return;
    const first = new Map<Measure['kind'], number>();
    for (const sentence of splitSentences(readTokens(text))) {
      for (const { kind, valueSi, toSi, reason: doubt } of readSentence(sentence, said)) {
        const earlier = first.get(kind) ?? valueSi;
        const reason = doubt ?? (earlier === valueSi ? null : LATER_VALUE);
        if (doubt === null) first.set(kind, earlier);
        values.push({
          kind,
          valueSi,
          text,
          doubtful: reason !== null,
          reason,
          entryIndex,
          sourceS,
        });
        if (reason === null) said = { ...said, [kind]: { valueSi, toSi } };
      }
    }
  });
  return values;
}

/** An entry has one time: a countdown in it was at that time once. */
const LATER_VALUE = 'spoken later in the same entry than another value';

/** A quick look that most lines of a long log do not pass. */
function mayHoldNumber(text: string): boolean {
  return /\d|[½¼¾]|(?:ty|one|two|three|four|five|six|seven|eight|nine|niner|ten|eleven|twelve|teen|half|hundred|thousand|quarter|tenth|point|decimal)/i.test(
    text,
  );
}
