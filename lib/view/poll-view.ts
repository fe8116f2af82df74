/** The board of rules at a poll: which instants can be asked for, and what was known at one. */

import { pollBoard, pollBoardOf } from '../core/debrief/nodes/poll-board';
import { instantPlace, type PollPlace, pollsOf } from '../core/debrief/poll-place';
import {
  type PollStanding,
  type PollState,
  type RuleAtPoll,
  roomTrend,
  worstFirst,
} from '../core/reconstruction/poll-state';
import type { Reconstruction, Verdict } from '../core/reconstruction/reconstruction';
import { entryWords } from '../core/sequence/sighting';
import { nameFromId } from '../core/session/name-from-id';
import type { Rule } from '../core/session/rule';
import { placeText } from './evidence-words';
import { type FigureView, figureView, figureViewOrNull, timelineHref } from './figure-view';
import { formatSessionTime } from './format-time';
import type { Tone } from './labels';
import { fieldTime, parseSessionTime } from './timeline-readout';
import { type EntryPlace, readTimeEntry } from './timeline-time-entry';

/** A poll of the log, and its address on the screen. */
export type PollChoice = Readonly<{
  key: string;
  text: string;
  words: string;
  href: string;
  isOpen: boolean;
}>;

/** What was asked for: an instant, or words that are none. */
export type PollAsked = Readonly<{
  atS: number | null;
  typed: string;
  problem: string | null;
}>;

/** An address keeps milliseconds. */
const ON_POLL_S = 1e-3;

/**
 * Reads the `at` of an address: seconds or hh:mm:ss of session time, also outside the session, or a clock
 * time of it such as 09:33:33 UTC.
 */
export function readPollInstant(at: string | undefined, place: EntryPlace): PollAsked {
  const typed = (at ?? '').trim().slice(0, 40);
  if (typed === '') return { atS: null, typed, problem: null };
  const read = readTimeEntry(typed, place);
  if (read.ok) return { atS: read.tS, typed: fieldTime(read.tS), problem: null };
  const atS = parseSessionTime(typed);
  return atS === null || Math.abs(atS) > 1e9
    ? { atS: null, typed, problem: read.problem }
    : { atS, typed: fieldTime(atS), problem: null };
}

/** Address of the board at an instant, to the millisecond; the rules shown above it stay as chosen. */
function pollHref(sessionId: string, atS: number, verdict: Verdict | null): string {
  const asked = new URLSearchParams({ at: String(Math.round(atS * 1000) / 1000) });
  if (verdict !== null) asked.set('verdict', verdict);
  return `/sessions/${encodeURIComponent(sessionId)}/rules?${asked}#poll`;
}

/** Polls of all logs, by time. */
export function pollChoices(
  reconstruction: Reconstruction,
  sessionId: string,
  { atS, verdict }: Readonly<{ atS: number | null; verdict: Verdict | null }>,
): readonly PollChoice[] {
  return pollsOf(reconstruction).map((poll, index) => ({
    key: `poll-${index}`,
    text: formatSessionTime(poll.atS),
    words: poll.entry?.text ?? 'poll',
    href: pollHref(sessionId, poll.atS, verdict),
    isOpen: atS !== null && Math.abs(poll.atS - atS) < ON_POLL_S,
  }));
}

/**
 * The instant that an address means: its milliseconds stand for a poll of the log where one is there,
 * which the entry itself would otherwise just miss.
 */
export function placeAsked(reconstruction: Reconstruction, atS: number): PollPlace {
  const own = pollsOf(reconstruction).find((poll) => Math.abs(poll.atS - atS) < ON_POLL_S);
  return own ?? instantPlace(atS);
}

/** The block of a debrief that shows what was known at an instant, and the section it belongs to. */
export function boardBlock(reconstruction: Reconstruction, atS: number) {
  const attributes = pollBoardOf(placeAsked(reconstruction, atS));
  return { type: pollBoard.name, attributes, section: 'rules' } as const;
}

/** What was answered to a poll: it came after the instant, so it is no part of what was known. */
export type PollAnswerLine = Readonly<{ key: string; time: string; words: string; place: string }>;

const ANSWER = 'poll-answer';

/** Entries named `poll-answer` from a poll to the next one; empty where the instant is no poll. */
export function pollAnswers(
  reconstruction: Reconstruction,
  atS: number | null,
): readonly PollAnswerLine[] {
  if (atS === null) return [];
  const polls = pollsOf(reconstruction).map((poll) => poll.atS);
  if (!polls.some((timeS) => Math.abs(timeS - atS) < ON_POLL_S)) return [];
  const nextS = polls.find((timeS) => timeS > atS + ON_POLL_S) ?? Number.POSITIVE_INFINITY;
  return reconstruction.events
    .filter(({ event, timeS }) => event === ANSWER && timeS >= atS && timeS < nextS)
    .map((entry) => ({
      key: `${entry.source}-${entry.line}`,
      time: formatSessionTime(entry.timeS),
      words: entryWords(entry),
      place: placeText(entry) ?? '',
    }));
}

export type PollRow = Readonly<{
  id: string;
  name: string;
  statement: string;
  standing: PollStanding;
  tone: Tone;
  value: FigureView | null;
  limit: FigureView | null;
  margin: FigureView | null;
  trend: FigureView | null;
  /** Which way the room goes, where its trend is more than noise. */
  trendWord: ReturnType<typeof roomTrend>;
  age: FigureView | null;
  /** Empty where it was still open. */
  soFar: string;
  words: string;
}>;

export type PollView = Readonly<{
  at: string;
  timelineHref: string;
  range: FigureView | null;
  closing: FigureView | null;
  age: FigureView | null;
  under: string;
  rows: readonly PollRow[];
  /** How many rules stood how, worst first. */
  counts: readonly Readonly<{ standing: PollStanding; tone: Tone; count: number }>[];
  unknown: readonly string[];
  sources: readonly Readonly<{ file: string; use: string; age: FigureView | null }>[];
}>;

const TONES: Readonly<Record<PollStanding, Tone>> = {
  inside: 'inside',
  beyond: 'beyond',
  'too close to call': 'unsure',
  open: 'quiet',
  held: 'inside',
  broken: 'beyond',
  'not in force': 'quiet',
  stale: 'unsure',
  'not known': 'unsure',
};

/** What was known at an instant, worst first. */
export function pollView(state: PollState, ruleSet: readonly Rule[], sessionId: string): PollView {
  const statements = new Map(ruleSet.map(({ id, statement }) => [id, statement]));
  const figure = (found: Parameters<typeof figureViewOrNull>[0], label: string) =>
    figureViewOrNull(found, { sessionId, label });
  const rows = worstFirst(state.rules).map((rule) =>
    pollRow(rule, statements.get(rule.id) ?? '', sessionId),
  );
  const step = state.step === null ? null : nameFromId(state.step);
  const planless = state.motion === null ? 'not known' : `unplanned ${state.motion}`;
  return {
    at: formatSessionTime(state.atS),
    timelineHref: timelineHref(sessionId, state.atS, state.atS),
    range: figure(state.rangeM, 'Range as known'),
    closing: figure(state.closingMps, 'Closing rate as known'),
    age: figure(state.motionAgeS, 'Age of the motion'),
    under: state.touchedS === null ? (step ?? planless) : 'capture, after first touch',
    rows,
    counts: [...new Set(rows.map(({ standing }) => standing))].map((standing) => ({
      standing,
      tone: TONES[standing],
      count: rows.filter((row) => row.standing === standing).length,
    })),
    unknown: [...touchedWords(state), ...state.unknown],
    sources: state.sources.map(({ file, use, ageS }) => ({
      file,
      use,
      age: figure(ageS, `${file}, age of its last row`),
    })),
  };
}

/** What first touch means for the board: rules about quantities end there. */
function touchedWords({ touchedS }: PollState): readonly string[] {
  if (touchedS === null) return [];
  return [
    `First touch had been at ${formatSessionTime(touchedS)}: rules about quantities are judged up to it, and their values here are those of the docked vehicle.`,
  ];
}

function pollRow(rule: RuleAtPoll, statement: string, sessionId: string): PollRow {
  const name = nameFromId(rule.id);
  const options = (what: string) => ({ sessionId, label: `${name}, ${what}`, unit: rule.unit });
  return {
    id: rule.id,
    name,
    statement,
    standing: rule.standing,
    tone: TONES[rule.standing],
    value: figureViewOrNull(rule.value, options('value then')),
    limit: figureViewOrNull(rule.limit, options('limit then')),
    margin: figureViewOrNull(rule.margin, { ...options('room then'), form: 'signed' }),
    trend:
      rule.trendPerS === null
        ? null
        : figureView(rule.trendPerS, {
            sessionId,
            label: `${name}, trend of the room`,
            form: 'signed',
          }),
    trendWord: roomTrend(rule),
    age: figureViewOrNull(rule.ageS, { sessionId, label: `${name}, age of its value` }),
    soFar: rule.soFar ?? '',
    words: rule.words,
  };
}
