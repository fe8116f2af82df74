/** A rule in words, from its parts: what is compared with what, where, and for how long. */

import { valueInUnit } from '../core/reconstruction/display-unit';
import { nameFromId } from '../core/session/name-from-id';
import type { Limit, Rule } from '../core/session/rule';
import { decimalsFor, formatNumber } from '../core/units/number-text';

/** One line under a rule's statement; the statement itself is the author's and is not interpreted. */
export function describeRule(rule: Rule): string {
  const parts = [whatIsAsked(rule), ...whereItApplies(rule), ...persistence(rule)];
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
  }
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
      const points = limit.points.map(([rangeM, value]) => `${trim(value)} at ${trim(rangeM)} m`);
      return `a profile in m/s over range (${points.join('; ')})`;
    }
    case 'cone': {
      const halfAngleDeg = (limit.halfAngleRad * 180) / Math.PI;
      return `a cone of ${trim(halfAngleDeg)} deg half angle, no less than ${trim(limit.floorM)} m`;
    }
  }
}

function whereItApplies(rule: Rule): readonly string[] {
  if (rule.within === null) return [];
  const { rangeM, axialM, step } = rule.within;
  return [
    rangeM === null ? '' : `between ${trim(rangeM[0])} and ${trim(rangeM[1])} m range`,
    axialM === null ? '' : `between ${trim(axialM[0])} and ${trim(axialM[1])} m along the axis`,
    step === null ? '' : `during ${nameFromId(step)}`,
  ].filter((part) => part !== '');
}

function persistence(rule: Rule): readonly string[] {
  return rule.persistsS > 0 ? [`counted when it lasts ${trim(rule.persistsS)} s`] : [];
}

/** A stated number without digits it was not written with. */
function trim(value: number): string {
  const text = formatNumber(value, decimalsFor(Math.abs(value) / 1e4, 0));
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
