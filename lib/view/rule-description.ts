/** A rule in words, from its parts: what is compared with what, where, and for how long. */

import { valueInUnit } from '../core/reconstruction/display-unit';
import { quantityWords } from '../core/session/general-rule';
import { nameFromId } from '../core/session/name-from-id';
import type { BandRule, EventsRule, Limit, OrderTarget, Rule } from '../core/session/rule';
import { decimalsFor, formatNumber } from '../core/units/number-text';

/** The name that a session gives to a state of a channel; null where it has none. */
export type StateName = (channel: string, value: number) => string | null;

/**
 * One line under a rule's statement; the statement itself is the author's and is not interpreted.
 *
 * @param stateName names of states; without it they are told by number, as rules are written
 */
export function describeRule(rule: Rule, stateName: StateName = () => null): string {
  const parts = [whatIsAsked(rule), ...whereItApplies(rule, stateName), ...persistence(rule)];
  // A number stays on one line with its unit.
  return parts.join(', ').replace(/(\d) (?=(s|m|deg|Pa)\b)/g, '$1\u00a0');
}

function whatIsAsked(rule: Rule): string {
  switch (rule.kind) {
    case 'quantity': {
      const quantity = nameFromId(rule.quantity).toLowerCase();
      const bound = rule.sense === 'at-most' ? 'at most' : 'at least';
      return `${quantity} ${bound} ${limitText(rule.limit, rule.unit)}`;
    }
    case 'order':
      return rule.then.kind === 'event'
        ? `event ${rule.firstEvent} before event ${rule.then.event}`
        : `event ${rule.firstEvent} before the ${rule.then.edge} of ${nameFromId(rule.then.step)}`;
    case 'never':
      return `event ${rule.event} never`;
    case 'duration':
      return `${nameFromId(rule.step)} lasts ${durationBounds(rule.atLeastS, rule.atMostS)}`;
    case 'band':
      return bandText(rule);
    case 'events':
      return eventsText(rule);
  }
}

function bandText({ quantity, low, high, unit }: BandRule): string {
  const name = nameFromId(quantityWords(quantity)).toLowerCase();
  if (low === null) return high === null ? name : `${name} at most ${limitText(high, unit)}`;
  if (high === null) return `${name} at least ${limitText(low, unit)}`;
  return `${name} between ${limitText(low, unit)} and ${limitText(high, unit)}`;
}

function momentText(target: OrderTarget): string {
  return target.kind === 'event'
    ? `event ${target.event}`
    : `the ${target.edge} of ${nameFromId(target.step)}`;
}

function eventsText({ ask }: EventsRule): string {
  if (ask.form === 'count') {
    if (ask.atMost === 0) return `event ${ask.event} never`;
    const bounds = [
      ask.atLeast === null ? '' : `at least ${ask.atLeast}`,
      ask.atMost === null ? '' : `at most ${ask.atMost}`,
    ];
    return `event ${ask.event} ${bounds.filter((bound) => bound !== '').join(' and ')} times`;
  }
  const order = `${momentText(ask.first)} before ${momentText(ask.then)}`;
  const least = ask.atLeastS === 0 ? null : ask.atLeastS;
  const bounds = durationBounds(least, ask.atMostS);
  return bounds === '' ? order : `${order}, ${bounds} between them`;
}

function durationBounds(atLeastS: number | null, atMostS: number | null): string {
  const bounds = [
    atLeastS === null ? '' : `at least ${trim(atLeastS)} s`,
    atMostS === null ? '' : `at most ${trim(atMostS)} s`,
  ];
  return bounds.filter((bound) => bound !== '').join(' and ');
}

function limitText(limit: Limit, unit: string): string {
  switch (limit.kind) {
    case 'constant': {
      return `${trim(valueInUnit(limit.value, unit))} ${unit}`.trim();
    }
    case 'by-range': {
      const points = limit.points.map(
        ([rangeM, value]) => `${trim(valueInUnit(value, unit))} at ${trim(rangeM)} m`,
      );
      return `a profile in ${unit} over range (${points.join('; ')})`;
    }
    case 'cone': {
      const halfAngleDeg = (limit.halfAngleRad * 180) / Math.PI;
      return `a cone of ${trim(halfAngleDeg)} deg half angle, no less than ${trim(limit.floorM)} m`;
    }
  }
}

function whereItApplies(rule: Rule, stateName: StateName): readonly string[] {
  const where = 'when' in rule ? rule.when : rule.within;
  if (where === null) return [];
  const { rangeM, axialM, step } = where;
  const mode = 'when' in rule ? (rule.when?.mode ?? null) : null;
  return [
    rangeM === null ? '' : `between ${trim(rangeM[0])} and ${trim(rangeM[1])} m range`,
    axialM === null ? '' : `between ${trim(axialM[0])} and ${trim(axialM[1])} m along the axis`,
    step === null ? '' : `during ${nameFromId(step)}`,
    mode === null
      ? ''
      : `while ${mode.channel} is ${mode.is.map((value) => stateName(mode.channel, value) ?? `${value}`).join(' or ')}`,
  ].filter((part) => part !== '');
}

function persistence(rule: Rule): readonly string[] {
  const lastsS = rule.kind === 'events' ? 0 : rule.persistsS;
  return lastsS > 0 ? [`counted when it lasts ${trim(lastsS)} s`] : [];
}

/** A stated number without digits it was not written with. */
function trim(value: number): string {
  const text = formatNumber(value, decimalsFor(Math.abs(value) / 1e4, 0));
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
