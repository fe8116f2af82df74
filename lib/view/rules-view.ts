/** Rules with verdict, margin and where; exceedances; what was not evaluated and why. */

import { halfWidth95 } from '../core/figure';
import type {
  Exceedance,
  Reconstruction,
  RuleResult,
  Verdict,
} from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { nameFromId } from '../core/session/name-from-id';
import type { Rule } from '../core/session/rule';
import { type DispositionView, dispositionsOf } from './dispositions-view';
import { type FigureView, figureView, figureViewOrNull, timelineHref } from './figure-view';
import { formatSessionTime } from './format-time';
import { reasonText, type Tone, verdictTone } from './labels';
import { describeRule, type StateName } from './rule-description';

/** A margin bar from the middle: fractions of half the width, negative = beyond the limit. */
export type MarginBar = Readonly<{ at: number; from: number; to: number }>;

export type RuleRow = Readonly<{
  id: string;
  name: string;
  statement: string;
  description: string;
  verdict: Verdict;
  tone: Tone;
  explanation: string;
  reason: string | null;
  margin: FigureView | null;
  instantMargin: FigureView | null;
  bar: MarginBar | null;
  where: Readonly<{ text: string; href: string }> | null;
  /** What people decided about it; the verdict stays as it is. */
  dispositions: readonly DispositionView[];
}>;

export type ExceedanceRow = Readonly<{
  key: string;
  rule: string;
  ruleId: string;
  start: FigureView;
  duration: FigureView;
  worst: FigureView;
  limit: FigureView;
  worstAt: FigureView;
  phase: string;
  href: string;
}>;

export type RulesView = Readonly<{
  rules: readonly RuleRow[];
  exceedances: readonly ExceedanceRow[];
  counts: readonly Readonly<{ verdict: Verdict; count: number }>[];
}>;

const VERDICT_ORDER: readonly Verdict[] = [
  'broken',
  'undecided',
  'not evaluated',
  'met',
  'not applicable',
];

/** The verdict asked for in an address; null for all, and for what is none. */
export function readVerdict(asked: string | readonly string[] | undefined): Verdict | null {
  return VERDICT_ORDER.find((verdict) => verdict === asked) ?? null;
}

/** A way to the rules of one verdict, or to all of them. */
export type VerdictChoice = Readonly<{
  verdict: Verdict | null;
  count: number;
  href: string;
  isChosen: boolean;
}>;

/**
 * The verdicts of a rule set, counted, each a way to its own rules alone; the last leads to all.
 *
 * @param atS the instant whose state is shown, which stays in the address
 */
export function verdictChoices(
  { counts, rules }: RulesView,
  chosen: Verdict | null,
  atS: number | null,
): readonly VerdictChoice[] {
  const hrefOf = (verdict: Verdict | null): string => {
    const asked = new URLSearchParams();
    if (verdict !== null) asked.set('verdict', verdict);
    if (atS !== null) asked.set('at', String(atS));
    return `?${asked}`;
  };
  const each: VerdictChoice[] = counts.map(({ verdict, count }) => ({
    verdict,
    count,
    href: hrefOf(verdict),
    isChosen: verdict === chosen,
  }));
  if (each.length < 2) return each;
  const all = { verdict: null, count: rules.length, href: hrefOf(null), isChosen: chosen === null };
  return [...each, all];
}

type Placed = Readonly<{ verdict: Verdict; bar: MarginBar | null }>;

/** Worst first: broken, undecided, not evaluated, met, not applicable; smallest margin first. */
function byRoom(a: Placed, b: Placed): number {
  return (
    VERDICT_ORDER.indexOf(a.verdict) - VERDICT_ORDER.indexOf(b.verdict) ||
    (a.bar?.at ?? 2) - (b.bar?.at ?? 2)
  );
}

/** The rules of a session in the order of its Rules screen: worst first. */
export function rulesByRoom({ rules, ruleSet }: Reconstruction): readonly Rule[] {
  const scales = marginScales(rules);
  const placed = rules.map((result) => ({
    id: result.id,
    verdict: result.verdict,
    bar: marginBar(result, scales),
  }));
  const byId = new Map(ruleSet.map((rule) => [rule.id, rule]));
  return placed.sort(byRoom).flatMap(({ id }) => byId.get(id) ?? []);
}

/** Rules in that order, with what was beyond a limit and how many there are of each verdict. */
export function rulesView(reconstruction: Reconstruction, sessionId: string): RulesView {
  const scales = marginScales(reconstruction.rules);
  const stateName = stateNames(reconstruction);
  const byId = new Map(reconstruction.ruleSet.map((rule) => [rule.id, rule]));
  const rules = reconstruction.rules
    .map((result) => ({
      ...ruleRow(result, byId.get(result.id), { scales, stateName, sessionId }),
      dispositions: dispositionsOf(reconstruction, result.id),
    }))
    .sort(byRoom);
  return {
    rules,
    exceedances: reconstruction.exceedances.map((exceedance, index) =>
      exceedanceRow(exceedance, index, reconstruction, sessionId),
    ),
    counts: VERDICT_ORDER.map((verdict) => ({
      verdict,
      count: reconstruction.rules.filter((rule) => rule.verdict === verdict).length,
    })).filter(({ count }) => count > 0),
  };
}

/** Names of states, from the changes between them that were seen. */
function stateNames({ sequence }: Reconstruction): StateName {
  const names = new Map<string, string>();
  for (const { change } of sequence) {
    if (change === undefined) continue;
    const { channel, from, to, fromName, toName } = change;
    if (fromName !== undefined) names.set(`${channel} ${from}`, fromName);
    if (toName !== undefined) names.set(`${channel} ${to}`, toName);
  }
  return (channel, value) => names.get(`${channel} ${value}`) ?? null;
}

type RowContext = Readonly<{
  scales: ReadonlyMap<string, number>;
  stateName: StateName;
  sessionId: string;
}>;

function ruleRow(
  result: RuleResult,
  rule: Rule | undefined,
  { scales, stateName, sessionId }: RowContext,
): Omit<RuleRow, 'dispositions'> {
  const name = nameFromId(result.id);
  const options = { sessionId, form: 'signed', unit: result.unit } as const;
  return {
    id: result.id,
    name,
    statement: rule?.statement ?? '',
    description: rule === undefined ? '' : describeRule(rule, stateName),
    verdict: result.verdict,
    tone: verdictTone(result.verdict),
    explanation: result.explanation,
    reason: result.reason === null ? null : reasonText(result.reason),
    margin: figureViewOrNull(result.margin, { ...options, label: `${name}, margin` }),
    instantMargin: figureViewOrNull(result.instantMargin, {
      ...options,
      label: `${name}, margin at the worst instant`,
    }),
    bar: marginBar(result, scales),
    where:
      result.atS === null
        ? null
        : {
            // A sentence that tells the instant itself is not followed by it again.
            text: result.explanation.includes(formatSessionTime(result.atS))
              ? 'timeline'
              : formatSessionTime(result.atS),
            href: timelineHref(sessionId, result.atS, result.atS),
          },
  };
}

/** Margins in one unit share a scale: the largest of them, its half-width included, fills it. */
function marginScales(rules: readonly RuleResult[]): ReadonlyMap<string, number> {
  const scales = new Map<string, number>();
  for (const { margin } of rules) {
    if (margin === null || margin.value === null) continue;
    const size = Math.abs(margin.value) + (halfWidth95(margin) ?? 0);
    scales.set(margin.unit, Math.max(scales.get(margin.unit) ?? 0, size));
  }
  return scales;
}

function marginBar({ margin }: RuleResult, scales: ReadonlyMap<string, number>): MarginBar | null {
  if (margin === null || margin.value === null) return null;
  const scale = scales.get(margin.unit) ?? 0;
  if (scale === 0) return { at: 0, from: 0, to: 0 };
  const half = halfWidth95(margin) ?? 0;
  return {
    at: margin.value / scale,
    from: (margin.value - half) / scale,
    to: (margin.value + half) / scale,
  };
}

function exceedanceRow(
  exceedance: Exceedance,
  index: number,
  reconstruction: Reconstruction,
  sessionId: string,
): ExceedanceRow {
  const name = nameFromId(exceedance.rule);
  const options = { sessionId, unit: exceedance.unit };
  return {
    key: `${exceedance.rule}-${index}`,
    rule: name,
    ruleId: exceedance.rule,
    start: figureView(exceedance.startS, {
      sessionId,
      label: `${name}, start of exceedance ${index + 1}`,
      form: 'time',
    }),
    duration: figureView(exceedance.durationS, { sessionId, label: `${name}, time beyond` }),
    worst: figureView(exceedance.worst, { ...options, label: `${name}, worst value` }),
    limit: figureView(exceedance.limit, { ...options, label: `${name}, limit there` }),
    worstAt: figureView(exceedance.worstS, {
      sessionId,
      label: `${name}, when it was worst`,
      form: 'time',
    }),
    phase:
      exceedance.phase === null
        ? 'outside every phase'
        : nameOfRun(reconstruction, exceedance.phase),
    href: timelineHref(sessionId, exceedance.startS.value ?? 0, exceedance.endS.value ?? 0),
  };
}
