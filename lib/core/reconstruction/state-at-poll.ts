/** Computes what was known at an instant, from real-time sources received by then alone. */
import type { Figure } from '../figure';
import { NORMAL_95 } from '../math/statistics';
import { quantityOf } from '../rules/derived-quantity';
import { type EventNow, eventsNow } from '../rules/event-now';
import { evaluateRule } from '../rules/rule-kinds';
import { type QuantityNow, quantityNow, TREND_S } from '../rules/rule-now';
import { generalRule } from '../session/general-rule';
import type { BandRule, EventsRule, QuantityRef, Rule } from '../session/rule';
import type { SessionInput } from '../session/session-input';
import { happenedBeforeS, stampingOf } from '../session/stamping';
import { DERIVED_QUANTITIES, rateUnit } from '../units/quantity';
import { siUnitOf } from './display-unit';
import { figureOf, type Origin } from './figure-of';
import { MOTION_WORDS } from './kind-words';
import { knownBy } from './known-by';
import { sourceAtPoll, unknownWords } from './poll-sources';
import type { PollStanding, PollState, RuleAtPoll } from './poll-state';
import type { Verdict } from './reconstruction';
import { type SessionContext, sessionContext } from './session-context';

const NOWHERE: Origin = { sources: [], channels: [] };

/** The last sample of a channel that counts: measured, not a repeat, not faulty. */
type LastSample = Readonly<{ atS: number; channel: string; file: string; staleAfterS: number }>;

/** The oldest of the last samples under some channels; `null` where one has none. */
function oldestSample(built: SessionContext, channels: readonly string[]): LastSample | null {
  let oldest: LastSample | null = null;
  for (const name of channels) {
    const found = lastSample(built, name);
    if (found === null) return null;
    if (oldest === null || found.atS < oldest.atS) oldest = found;
  }
  return oldest;
}

function lastSample({ telemetry }: SessionContext, name: string): LastSample | null {
  for (const { source, tS, channels, longestStepS } of telemetry.checked) {
    const checked = channels.find(({ channel }) => channel.name === name);
    if (checked === undefined) continue;
    const { values } = checked.channel;
    for (let row = values.length - 1; row >= 0; row--) {
      if (Number.isNaN(values[row]) || checked.rejected?.[row] === 1) continue;
      const atS = (tS[row] ?? Number.NaN) - happenedBeforeS(stampingOf(source));
      const period = checked.rhythm.kind === 'held' ? 5 * checked.rhythm.periodS : 0;
      // A row is a latency old when it comes, and the next one is due a step later.
      const staleAfterS = Math.max(longestStepS, period) + (stampingOf(source).latencyS ?? 0);
      return { atS, channel: name, file: source.file, staleAfterS };
    }
  }
  return null;
}

function originOf(built: SessionContext, channels: readonly string[]): Origin {
  const sources = built.telemetry.checked
    .filter(({ source }) => source.channels.some(({ name }) => channels.includes(name)))
    .map(({ source }) => ({ file: source.file, sha256: source.sha256 }));
  return { sources, channels };
}

function ageFigure(built: SessionContext, sample: LastSample, atS: number): Figure {
  return figureOf(originOf(built, [sample.channel]), {
    value: atS - sample.atS,
    unit: 's',
    random: null,
    method: `Instant minus the time at which the last sample of ${sample.channel} was measured, the oldest of those it needs.`,
    fromS: sample.atS,
    toS: atS,
  });
}

function standingOf(now: QuantityNow, isStale: boolean): PollStanding {
  if (isStale) return 'stale';
  if (!now.isInForce) return 'not in force';
  if (Number.isNaN(now.room)) return 'not known';
  if (Math.abs(now.room) < (now.roomHalf ?? 0)) return 'too close to call';
  return now.room < 0 ? 'beyond' : 'inside';
}

/** How old the last value is, and from which age on a newer one should have been there. */
function staleWords(sample: LastSample | null, atS: number): string {
  if (sample === null) return 'The last value is too old to speak for this instant.';
  const oldS = (atS - sample.atS).toFixed(1);
  return `The last value is ${oldS} s old and does not speak for this instant: a newer one was due at ${sample.staleAfterS.toFixed(1)} s.`;
}

function nowWords(rule: BandRule, now: QuantityNow, standing: PollStanding): string {
  if (standing === 'not in force') return 'It did not apply where the vehicle was.';
  if (standing === 'not known') return 'Its limit depends on a range that was not known.';
  if (now.beyondSinceS !== null && now.room < 0) {
    const lastedS = (now.atS - now.beyondSinceS).toFixed(1);
    const of = rule.persistsS > 0 ? ` of the ${rule.persistsS} s that count` : '';
    return `Beyond its limit for ${lastedS} s${of}.`;
  }
  const { trendPerS, trendHalfPerS } = now;
  if (trendPerS !== null && trendHalfPerS !== null && trendPerS < -trendHalfPerS) {
    return `At this trend the limit is reached in ${Math.round(now.room / -trendPerS)} s.`;
  }
  return '';
}

/** Why a quantity is not known: nobody records it, it came later, or nothing had come by then. */
function missingWords(quantity: string, input: SessionInput): string {
  const has = input.sources.filter(
    (source) =>
      source.type === 'telemetry' &&
      source.channels.some(
        ({ as }) =>
          as === quantity || (DERIVED_QUANTITIES.has(quantity) && as.startsWith('position.')),
      ),
  );
  const own = has.filter(
    (source) => source.type === 'telemetry' && source.channels.some(({ as }) => as === quantity),
  );
  const later = own.find(
    (source) => source.type === 'telemetry' && source.declared.available === 'afterwards',
  );
  if (later !== undefined)
    return `${quantity} is in ${later.file} alone, which arrived afterwards.`;
  if (own.length > 0) return `Nothing of ${quantity} had been received by then.`;
  if (has.length > 0) return `No real-time source had told ${quantity} by then.`;
  return `No source has a channel for ${quantity}.`;
}

function firstName(ref: QuantityRef): string {
  if (ref.kind === 'named') return ref.name;
  return typeof ref.of === 'string' ? ref.of : (ref.of[0] ?? '');
}

function roomText({ low, high }: BandRule): string {
  if (low === null) return 'limit minus value';
  return high === null ? 'value minus limit' : 'room to the nearer bound';
}

type Known = Readonly<{ whole: SessionInput; built: SessionContext; atS: number }>;

function quantityAtPoll(rule: BandRule, { whole, built, atS }: Known): RuleAtPoll {
  const { context } = built;
  const soFar = evaluateRule(rule, context).verdict;
  const found = quantityOf(rule.quantity, context);
  const quantity = typeof found === 'string' ? null : found;
  const now = quantity === null ? null : quantityNow(rule, quantity, context);
  const none = { value: null, limit: null, margin: null, trendPerS: null, ageS: null };
  if (quantity === null || now === null) {
    const words = missingWords(typeof found === 'string' ? found : firstName(rule.quantity), whole);
    return { id: rule.id, standing: 'not known', ...none, unit: null, soFar, words };
  }
  const sample = oldestSample(built, quantity.channels);
  const isStale = sample === null || atS - sample.atS > sample.staleAfterS;
  const origin = originOf(built, quantity.channels);
  const figure = (
    value: number | null,
    random: number | null,
    unit: string,
    method: string,
    systematic: number | null = null,
  ): Figure | null =>
    value === null || Number.isNaN(value)
      ? null
      : figureOf(origin, { value, unit, random, systematic, method, fromS: now.atS, toS: now.atS });
  const si = siUnitOf(rule.unit);
  const base = 'At the last row received by then';
  const standing = standingOf(now, isStale);
  const what = roomText(rule);
  return {
    id: rule.id,
    standing,
    value: figure(now.value, now.valueHalf, si, `${base}. ${quantity.method}`, quantity.systematic),
    limit: figure(now.limit, now.limitHalf, si, `${base}, from the range known there.`),
    margin: figure(now.room, now.roomHalf, si, `${base}: ${what}.`, quantity.systematic),
    trendPerS: figure(
      now.trendPerS,
      now.trendHalfPerS,
      rateUnit(si),
      `Slope of ${what} over the last ${TREND_S} s received, by least squares.`,
    ),
    ageS: sample === null ? null : ageFigure(built, sample, atS),
    unit: rule.unit,
    soFar,
    words: standing === 'stale' ? staleWords(sample, atS) : nowWords(rule, now, standing),
  };
}

/** What an event rule's standing says of its verdict so far; what is open has none. */
const SO_FAR: Readonly<Record<EventNow['standing'], Verdict | null>> = {
  held: 'met',
  broken: 'broken',
  open: null,
  'not known': null,
};

function eventAtPoll(rule: EventsRule, { built, atS }: Known): RuleAtPoll {
  const now = eventsNow(rule, built.context, atS);
  const origin = built.session?.origin ?? NOWHERE;
  const figure = (value: number | null, random: number | null, method: string): Figure | null =>
    value === null
      ? null
      : figureOf(origin, { value, unit: now.unit, random, method, fromS: atS, toS: atS });
  return {
    id: rule.id,
    standing: now.standing,
    value: figure(now.value, now.half, 'Time elapsed or between, or entries, as known by then.'),
    limit: figure(now.limit, null, 'Bound of the rule that is nearer or ahead.'),
    margin: figure(now.room, now.half, 'Room to that bound.'),
    trendPerS: null,
    ageS: null,
    unit: now.value === null ? null : now.unit,
    soFar: SO_FAR[now.standing],
    words: now.words,
  };
}

function ruleAtPoll(rule: Rule, known: Known): RuleAtPoll {
  const general = generalRule(rule);
  return general.kind === 'band' ? quantityAtPoll(general, known) : eventAtPoll(general, known);
}

/** First touch as what had been received shows or names it; one that is only foreseen is not known. */
function touchedByThen({ built, atS }: Known): number | null {
  const { contact } = built;
  if (contact === null || contact.basis === 'extrapolated' || contact.timeS > atS) return null;
  return contact.timeS;
}

/** Motion at the last row received: range, closing rate and their age. */
function motionFigures({
  built,
  atS,
}: Known): Pick<PollState, 'rangeM' | 'closingMps' | 'motionAgeS'> {
  const { session, context } = built;
  const sample = session === null ? null : oldestSample(built, session.motion.channels);
  const last = (name: string, unit: string): Figure | null => {
    const quantity = context.quantity(name);
    if (quantity === null) return null;
    let row = quantity.value.length - 1;
    while (row >= 0 && Number.isNaN(quantity.value[row])) row--;
    if (row < 0) return null;
    const rowS = quantity.tS[row] ?? Number.NaN;
    return figureOf(originOf(built, quantity.channels), {
      value: quantity.value[row] ?? null,
      unit,
      random: NORMAL_95 * (quantity.sd[row] ?? Number.NaN),
      systematic: quantity.systematic,
      method: `At the last row received by then. ${quantity.method}`,
      fromS: rowS,
      toS: rowS,
    });
  };
  return {
    rangeM: last('range', 'm'),
    closingMps: last('closing_rate', 'm/s'),
    motionAgeS: sample === null ? null : ageFigure(built, sample, atS),
  };
}

/**
 * The state of every rule at an instant, as it could be known then.
 *
 * The same stages as for the whole session run over the rows and entries of real-time sources
 * received by then, so nothing that came later can change it.
 *
 * @param input the whole session
 * @param atS the instant, session time, s
 */
export function stateAtPoll(input: SessionInput, atS: number): PollState {
  const { input: cut, uses } = knownBy(input, atS);
  const known: Known = { whole: input, built: sessionContext(cut), atS };
  const { phases } = known.built;
  const rules = input.rules.map((rule) => ruleAtPoll(rule, known));
  const sources = uses.map((use) => sourceAtPoll(use, known.built, atS));
  const last = phases.at(-1)?.phase;
  return {
    atS,
    ...motionFigures(known),
    step: last?.step ?? null,
    motion: last === undefined ? null : MOTION_WORDS[last.motion],
    touchedS: touchedByThen(known),
    rules,
    sources,
    unknown: unknownWords(sources, rules),
  };
}
