/** Contact: its instant and the conditions at it, as figures. */
import type { Figure } from '../figure';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import {
  type LastSecondMean,
  lastAxialRate,
  lastLevel,
  lastRate,
  lastSecondMean,
} from '../phases/contact-conditions';
import type { ContactTime } from '../phases/contact-time';
import { type Samples, takeSamples } from '../series/samples';
import type { Channel } from '../session/session-input';
import {
  type Condition,
  derivedConditions,
  estimatedOffset,
  type NamedMean,
  pair,
  single,
  turned,
} from './contact-condition';
import type { Contact } from './contact-report';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin, withPeople } from './figure-of';
import { partAt } from './joined-source';
import { broughtRateSd, noConditions, referenceWords } from './source-reference';

const TIME_METHODS: Readonly<Record<ContactTime['basis'], string>> = {
  declared: 'As a person declared it.',
  crossing: 'Interpolated crossing of the plane of first touch by the estimated axial distance.',
  extrapolated:
    'Axial distance at the last row carried on to the plane of first touch by the axial rate.',
  event: 'First logged event "contact"; no telemetry reaches the plane of first touch.',
};

const MEAN_WORDS = 'over the last second';

/** Data that end longer before a logged contact say nothing about it, s. Our own choice. */
export const LONGEST_UNSEEN_S = 60;

/** Rows before contact that tell a channel's noise there. */
const TAIL_ROWS = 1024;

/** A velocity's mean with the noise that the turns of an arm and of the axes bring into it. */
function withTurns(mean: LastSecondMean, quantity: string, source: CheckedSource): LastSecondMean {
  const [stem, axis = ''] = quantity.split('.');
  if (stem !== 'velocity') return mean;
  const row = Math.min(source.tS.length - 1, lowerBound(source.tS, mean.toS));
  const sdMps = broughtRateSd(source.reference, axis)(row);
  if (sdMps === 0) return mean;
  return { ...mean, half: Math.hypot(mean.half, NORMAL_95 * sdMps) };
}

/**
 * Until when data surely are before contact: those within its interval may already be of the stop, where they go on
 * after it.
 */
function surelyBeforeS({ timeS, halfS, basis }: ContactTime): number {
  return basis === 'crossing' ? timeS - (halfS ?? 0) : timeS;
}

/** A channel as the motion has it, where its rows last before an instant are those of this source. */
function partSamples(
  session: SessionMotion | null,
  source: CheckedSource,
  channel: Channel,
  atS: number,
): Samples | undefined {
  if (session === null || partAt(session, atS) !== source) return undefined;
  if (source === session.source) return session.motion.samples.get(channel.name);
  const named = session.source.channels.find((each) => each.channel.as === channel.as);
  return session.motion.samples.get(named?.channel.name ?? '');
}

/** The channel's mean before contact, from the source whose data reach closest to it. */
function meanOf(
  quantity: string,
  sources: readonly CheckedSource[],
  atS: number,
  estimate: (samples: Samples, untilS: number) => LastSecondMean | null,
  session: SessionMotion | null,
): NamedMean | null {
  let best: NamedMean | null = null;
  for (const source of sources) {
    for (const { channel, rejected } of source.channels) {
      if (channel.as !== quantity) continue;
      const to = lowerBound(source.tS, atS + 1e-9);
      const from = Math.max(0, to - TAIL_ROWS);
      const known = partSamples(session, source, channel, atS);
      const tail =
        known ??
        takeSamples(
          source.tS.subarray(from, to),
          channel.values.subarray(from, to),
          rejected === null ? null : rejected.subarray(from, to),
        );
      const mean = estimate(tail, atS);
      if (mean === null || atS - mean.toS > LONGEST_UNSEEN_S) continue;
      if (best !== null && best.toS >= mean.toS) continue;
      best = { ...withTurns(mean, quantity, source), name: channel.name, quantity, source };
    }
  }
  return best;
}

/** Angles and turn rates are of the body, whatever point of it is measured. */
function isKinematic({ quantity }: NamedMean): boolean {
  return quantity.startsWith('position.') || quantity.startsWith('velocity.');
}

function originOf(parts: readonly NamedMean[]): Origin {
  const sources = new Map(parts.map(({ source }) => [source.source.file, source.source]));
  const words = referenceWords(parts.find(isKinematic)?.source.reference);
  return {
    sources: [...sources.values()].map(({ file, sha256 }) => ({ file, sha256 })),
    channels: parts.map((part) => part.name),
    ...(words === null ? {} : { of: words }),
  };
}

/** The instant, and what people said of it. */
type Touch = Readonly<{ timeS: number; people: readonly string[] }>;

function conditionFigure(condition: Condition, touch: Touch, over: string): Figure {
  const { timeS: contactS, people } = touch;
  const fromS = Math.min(...condition.parts.map((part) => part.fromS));
  const toS = Math.max(...condition.parts.map((part) => part.toS));
  const count = condition.parts[0]?.count ?? 0;
  const early =
    contactS - toS > 2 ? ` Data end ${(contactS - toS).toFixed(1)} s before contact.` : '';
  return figureOf(withPeople(originOf(condition.parts), people), {
    value: condition.measured.value,
    unit: condition.unit,
    random: condition.measured.half,
    systematic: condition.systematic,
    method: `${condition.method} ${over} of data before contact (${count} samples).${early}`,
    fromS,
    toS,
  });
}

/**
 * Contact with its conditions; a condition is absent where its channels are.
 *
 * Where data go on after contact, the last second is the one that ends before the interval of the instant begins.
 * Conditions of data that end more than a minute before contact are absent too: the vehicle moved on.
 * Rates come from measured velocity; without it from the position, whose rate may wander or sway, over the last 300 s.
 * The lateral offset is that of the means of the estimated y and z where they are those of the motion.
 *
 * @param time from `findContactTime`
 * @param sources all telemetry, checked
 * @param session the motion, whose channels' noise is known best; `null` for none
 * @param origin what the instant rests on, what people declared included
 */
export function contactFigures(
  time: ContactTime,
  sources: readonly CheckedSource[],
  session: SessionMotion | null,
  origin: Origin,
): Contact {
  const withheld = noConditions(session?.source.reference);
  const untilS = surelyBeforeS(time);
  const mean = (quantity: string): NamedMean | null =>
    meanOf(quantity, sources, untilS, lastSecondMean, session);
  const people = origin.people ?? [];
  const touch = { timeS: time.timeS, people };
  const velocityX = mean('velocity.x');
  const conditions: Record<string, Figure> = {};
  const add = (name: string, condition: Condition | null): void => {
    if (condition !== null) conditions[name] = conditionFigure(condition, touch, MEAN_WORDS);
  };
  const axial = single(velocityX, 'm/s', 'velocity.x', 'Minus the mean axial velocity');
  add('closing_rate', axial === null ? null : turned(axial));
  const sum = 'Root of the sum of squares of the mean';
  const offset = pair(mean('position.y'), mean('position.z'), 'm', 'position.y', `${sum} y and z`);
  add('lateral_offset', estimatedOffset(offset, session));
  add(
    'lateral_rate',
    pair(mean('velocity.y'), mean('velocity.z'), 'm/s', 'velocity.y', `${sum} rates of y and z`),
  );
  if (axial === null) {
    const at =
      (estimate: typeof lastRate): typeof mean =>
      (quantity) =>
        meanOf(quantity, sources, untilS, estimate, session);
    const rate = (quantity: string): NamedMean | null =>
      at(quantity === 'position.x' ? lastAxialRate : lastRate)(quantity);
    addDerived(conditions, derivedConditions(rate, at(lastLevel)), touch);
  }
  for (const [name, stem, unit] of [
    ['attitude_error', 'attitude_error', 'rad'],
    ['body_rate', 'body_rate', 'rad/s'],
  ] as const) {
    const pitch = mean(`${stem}.pitch`);
    const yaw = mean(`${stem}.yaw`);
    add(`${name}_pitch_yaw`, pair(pitch, yaw, unit, stem, `${sum} pitch and yaw`));
    add(`${name}_roll`, single(mean(`${stem}.roll`), unit, stem, 'Mean roll'));
  }
  const shown = withheld === null ? conditions : {};
  return {
    timeS: figureOf(origin, {
      value: time.timeS,
      unit: 's',
      random: people.length === 0 ? time.halfS : null,
      systematic: people.length === 0 ? null : time.halfS,
      method: people.length === 0 ? TIME_METHODS[time.basis] : people.join(' '),
      fromS: time.timeS,
      toS: time.timeS,
      ...(time.basis === 'event'
        ? { reason: 'The log does not state the accuracy of its times.' }
        : {}),
    }),
    basis: time.basis,
    conditions: shown,
    ages: dataAges(shown, time),
    ...(withheld === null ? {} : { notEvaluated: withheld }),
  };
}

/** Conditions from position alone; a lateral rate that was measured stays. */
function addDerived(
  conditions: Record<string, Figure>,
  derived: ReturnType<typeof derivedConditions>,
  touch: Touch,
): void {
  for (const { name, condition, over } of derived) {
    if (name === 'lateral_rate' && conditions[name] !== undefined) continue;
    conditions[name] = conditionFigure(condition, touch, over);
  }
}

/** From the last sample under each condition to contact, s. */
function dataAges(
  conditions: Readonly<Record<string, Figure>>,
  time: ContactTime,
): Readonly<Record<string, Figure>> {
  return Object.fromEntries(
    Object.entries(conditions).map(([name, { evidence }]) => [
      name,
      figureOf(evidence, {
        value: evidence.toS === null ? null : time.timeS - evidence.toS,
        unit: 's',
        random: time.halfS,
        method: 'Instant of contact minus the time of the last sample under the condition.',
        fromS: evidence.toS,
        toS: time.timeS,
      }),
    ]),
  );
}
