/** Spoken values as people judged them. */
import type { ClockCorrection } from '../session/clock-correction';
import type { LogEntry } from '../session/session-input';
import { findCallouts, type SpokenValue } from './find-callouts';

/** What a person made of a value; null where nobody looked. */
export type Review = 'accepted' | 'corrected' | 'rejected' | null;

/** A spoken value with its place in the log and what a person made of it. */
export type ReviewedValue = SpokenValue & Readonly<{ line: number; nth: number; review: Review }>;

type Judgement = Exclude<ClockCorrection, { kind: 'tie-point' }>;

function withNote(words: string, by: string | null, reason: string | null): string {
  const who = by === null ? words : `${words} by ${by}`;
  return reason === null ? who : `${who}: ${reason}`;
}

function judged(value: ReviewedValue, judgement: Judgement | undefined): ReviewedValue {
  if (judgement === undefined) return value;
  const { by, reason } = judgement;
  if (judgement.kind === 'correct') {
    const { quantity: kind, saidSi: valueSi } = judgement;
    return { ...value, kind, valueSi, doubtful: false, reason: null, review: 'corrected' };
  }
  if (judgement.kind === 'accept') {
    return { ...value, doubtful: false, reason: null, review: 'accepted' };
  }
  return { ...value, doubtful: true, reason: withNote('rejected', by, reason), review: 'rejected' };
}

/**
 * The spoken values of a log with people's judgements laid over them.
 *
 * @param entries the log's entries
 * @param corrections what people said of this log; of two on one value the later counts
 * @returns values in the order of the entries; a judgement whose place holds no value has no effect
 */
export function reviewCallouts(
  entries: readonly LogEntry[],
  corrections: readonly ClockCorrection[],
): readonly ReviewedValue[] {
  const judgements = new Map<string, Judgement>();
  for (const one of corrections) {
    if (one.kind !== 'tie-point') judgements.set(`${one.line}/${one.nth}`, one);
  }
  const counts = new Map<number, number>();
  return findCallouts(entries).map((value) => {
    const line = entries[value.entryIndex]?.line ?? 0;
    const nth = (counts.get(line) ?? 0) + 1;
    counts.set(line, nth);
    return judged({ ...value, line, nth, review: null }, judgements.get(`${line}/${nth}`));
  });
}
