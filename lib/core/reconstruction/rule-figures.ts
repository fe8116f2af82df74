/** Rule outcomes and exceedances as figures. */
import type { EvidenceSource, Figure } from '../figure';
import type { RuleContext } from '../rules/rule-context';
import { evaluateRule } from '../rules/rule-kinds';
import type { ExceedanceNumbers, Margin, RuleOutcome } from '../rules/rule-outcome';
import { generalRule } from '../session/general-rule';
import type { OrderTarget, Rule } from '../session/rule';
import { siUnitOf } from './display-unit';
import { figureOf, type Origin, withPeople } from './figure-of';
import type { FlownPhase } from './phase-figures';
import type { Exceedance, RuleResult } from './reconstruction';

/** What the figures of rules rest on. */
export type RuleEvidence = Readonly<{
  telemetry: readonly EvidenceSource[];
  rules: EvidenceSource | null;
  /** Origin of the motion, whose points the figures on its channels are of; null without one. */
  motion: Origin | null;
  /** What people set of a step, and of contact, at which everything that is judged ends. */
  people: Readonly<{ step: (id: string) => readonly string[]; contact: readonly string[] }>;
}>;

/** Steps that a rule is about: in which it applies, or whose edges it is about. */
function stepsOf(rule: Rule): readonly string[] {
  const general = generalRule(rule);
  const within = general.when?.step == null ? [] : [general.when.step];
  if (general.kind === 'band' || general.ask.form !== 'order') return within;
  const edge = (target: OrderTarget) => (target.kind === 'step-edge' ? [target.step] : []);
  return [...within, ...edge(general.ask.first), ...edge(general.ask.then)];
}

function originOf(outcome: RuleOutcome, evidence: RuleEvidence): Origin {
  const sources = evidence.rules === null ? [] : [evidence.rules];
  const { motion } = evidence;
  const isOfMotion = outcome.channels.some((name) => motion?.channels.includes(name));
  return {
    sources: [...evidence.telemetry, ...sources],
    channels: outcome.channels,
    ...(isOfMotion && motion?.of !== undefined ? { of: motion.of } : {}),
  };
}

function marginFigure(margin: Margin | null, unit: string | null, origin: Origin): Figure | null {
  if (margin === null) return null;
  return figureOf(origin, {
    value: margin.value,
    unit: unit ?? '1',
    random: margin.half,
    systematic: margin.systematic,
    method: margin.method,
    fromS: margin.fromS,
    toS: margin.toS,
  });
}

/** Index of the phase in which an instant lies; the later one at an edge. */
function phaseAt(phases: readonly FlownPhase[], atS: number): number | null {
  for (let index = phases.length - 1; index >= 0; index--) {
    const run = phases[index]?.run;
    if (run !== undefined && atS >= run.startS && atS <= run.endS) return index;
  }
  return null;
}

const EDGE_METHOD =
  'Interpolated crossing of the limit, or the edge of the stretch in which the rule applies; the interval is the time the value stays within its own noise of the limit, and half a row.';

function exceedanceFigures(
  rule: Rule,
  unit: string,
  numbers: ExceedanceNumbers,
  origin: Origin,
  phases: readonly FlownPhase[],
): Exceedance {
  const si = siUnitOf(unit);
  const over = { fromS: numbers.startS, toS: numbers.endS };
  const seconds = (value: number, half: number, method: string): Figure =>
    figureOf(origin, { value, unit: 's', random: half, method, ...over });
  return {
    rule: rule.id,
    startS: seconds(numbers.startS, numbers.startHalfS, EDGE_METHOD),
    endS: seconds(numbers.endS, numbers.endHalfS, EDGE_METHOD),
    durationS: seconds(
      numbers.endS - numbers.startS,
      Math.hypot(numbers.startHalfS, numbers.endHalfS),
      'End minus start.',
    ),
    worstS: seconds(numbers.worstS, numbers.worstHalfS, 'Where the room to the limit is smallest.'),
    worst: figureOf(origin, {
      value: numbers.worst,
      unit: si,
      random: numbers.worstHalf,
      systematic: numbers.systematic,
      method: 'Estimated value where the room to the limit is smallest.',
      fromS: numbers.worstS,
      toS: numbers.worstS,
    }),
    limit: figureOf(origin, {
      value: numbers.limit,
      unit: si,
      random: numbers.limitHalf,
      method: 'The limit at the estimated place of the worst value.',
      fromS: numbers.worstS,
      toS: numbers.worstS,
    }),
    unit,
    phase: phaseAt(phases, numbers.startS),
  };
}

export type RuleFigures = Readonly<{
  results: readonly RuleResult[];
  exceedances: readonly Exceedance[];
}>;

/**
 * Evaluates all rules.
 *
 * @returns results in the order of the rule file; exceedances by rule in that order, then by time
 */
export function ruleFigures(
  rules: readonly Rule[],
  context: RuleContext,
  phases: readonly FlownPhase[],
  evidence: RuleEvidence,
): RuleFigures {
  const exceedances: Exceedance[] = [];
  const results = rules.map((rule): RuleResult => {
    const outcome = evaluateRule(rule, context);
    const people = [...new Set(stepsOf(rule).flatMap(evidence.people.step))];
    const origin = withPeople(originOf(outcome, evidence), [...people, ...evidence.people.contact]);
    const si = outcome.unit === null ? null : siUnitOf(outcome.unit);
    for (const numbers of outcome.exceedances) {
      exceedances.push(exceedanceFigures(rule, outcome.unit ?? '1', numbers, origin, phases));
    }
    return {
      id: rule.id,
      verdict: outcome.verdict,
      margin: marginFigure(outcome.margin, si, origin),
      instantMargin: marginFigure(outcome.instantMargin, si, origin),
      unit: outcome.unit,
      reason: outcome.reason,
      explanation: [outcome.explanation, ...people].join(' '),
      atS: outcome.atS,
      ...(outcome.brokenOver.length === 0 ? {} : { brokenOver: outcome.brokenOver }),
    };
  });
  return { results, exceedances };
}
