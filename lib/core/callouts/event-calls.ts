/** Calls of contact and capture in a log: words about an instant that is known. */
import type { LogEntry } from '../session/session-input';
import { readTokens, splitSentences } from './spoken-tokens';

export type CalledEvent = 'contact' | 'soft-capture' | 'hard-capture';

/** The first certain call of an event in a log. */
export type EventCall = Readonly<{
  event: CalledEvent;
  text: string;
  line: number;
  sourceS: number;
}>;

/** Common practice, no source: how the three are called in plain English. */
const CALLS: readonly (readonly [CalledEvent, RegExp])[] = [
  ['contact', /^contact$/],
  ['soft-capture', /^(?:soft )?capture$/],
  ['hard-capture', /^hard capture$/],
];

/** Words that a certain call may hold besides its own. */
const BESIDE = /\b(?:and|okay|ok|we|have|i|got|good|that's|a|confirmed|confirm|now|mark|there)\b/g;

function calledIn(text: string): CalledEvent | null {
  for (const { tokens, isQuestion } of splitSentences(readTokens(text))) {
    if (isQuestion || tokens.some(({ kind }) => kind === 'number')) continue;
    const words = tokens.filter(({ kind }) => kind === 'word').map((token) => token.text);
    const rest = words.join(' ').replace(BESIDE, ' ').replace(/\s+/g, ' ').trim();
    const found = CALLS.find(([, form]) => form.test(rest));
    if (found !== undefined) return found[0];
  }
  return null;
}

/**
 * The first call of each event.
 *
 * Only a sentence that holds the call and nothing else counts (`Contact.`, `We have soft capture.`);
 * what is asked, expected or denied does not. Later calls may be echoes and are passed over.
 *
 * @param entries by time
 */
export function findEventCalls(entries: readonly LogEntry[]): readonly EventCall[] {
  const calls = new Map<CalledEvent, EventCall>();
  for (const { text, line, sourceS } of entries) {
    const event = text === null ? null : calledIn(text);
    if (text === null || event === null || calls.has(event)) continue;
    calls.set(event, { event, text, line, sourceS });
  }
  return [...calls.values()];
}
