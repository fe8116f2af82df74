/** Reads rules.yaml. */
import { hasErrors, type Issue } from '../result';
import type { PartlyRead } from './file-faults';
import type { Plan } from './plan';
import { readBandRule, readEventsRule } from './read-general-rule';
import { readLimit } from './read-limit';
import { reportRepeatedIds } from './read-plan-file';
import type { QuantityRule, Rule, When, Within } from './rule';
import { type RuleData, rulesFileSchema, type WhenData, type WithinData } from './rules-schema';
import { capIssues, checkSchema, makeReport, type Report } from './schema-issues';
import { type KeyPath, readYaml } from './yaml-text';

type RuleBase = Pick<QuantityRule, 'id' | 'statement' | 'within' | 'persistsS'>;

/** A stretch `[low, high]`, reported where it is reversed or empty. */
function readStretch(
  pair: readonly [number, number] | undefined,
  path: KeyPath,
  report: Report,
): readonly [number, number] | null {
  if (pair === undefined) return null;
  const [low, high] = pair;
  if (low >= high) {
    report(path, {
      code: 'within-reversed',
      message: `must be [low, high] with low under high, found [${low}, ${high}]`,
      expected: '[low, high]',
      received: `[${low}, ${high}]`,
    });
  }
  return pair;
}

function readWithin(data: WithinData | undefined, path: KeyPath, report: Report): Within | null {
  if (data === undefined) return null;
  if (Object.keys(data).length === 0) {
    report(path, {
      code: 'within-empty',
      message: 'names no condition',
      expected: 'any of range_m, axial_m, step',
      received: 'none of them',
    });
  }
  return {
    rangeM: readStretch(data.range_m, [...path, 'range_m'], report),
    axialM: readStretch(data.axial_m, [...path, 'axial_m'], report),
    step: data.step ?? null,
  };
}

function readQuantityRule(
  data: Exclude<Extract<RuleData, { quantity: string }>, { between: unknown }>,
  base: RuleBase,
  path: KeyPath,
  report: Report,
): Rule {
  const { quantity, limit, at_least: atLeast } = data;
  if ((limit === undefined) === (atLeast === undefined)) {
    report([...path, 'limit'], {
      code: limit === undefined ? 'key-missing' : 'key-conflict',
      message:
        limit === undefined
          ? 'one of these keys is missing: limit, at_least'
          : 'limit and at_least exclude each other; write two rules',
      expected: 'one of limit, at_least',
      received: limit === undefined ? 'none of them' : 'both',
    });
  }
  const read =
    limit !== undefined
      ? readLimit(limit, quantity, [...path, 'limit'], report)
      : atLeast !== undefined
        ? readLimit(atLeast, quantity, [...path, 'at_least'], report)
        : { limit: { kind: 'constant', value: 0 } as const, unit: '1' };
  const sense = limit !== undefined ? 'at-most' : 'at-least';
  return { ...base, kind: 'quantity', quantity, sense, ...read };
}

function readDurationRule(
  data: Extract<RuleData, { duration: object }>,
  base: RuleBase,
  path: KeyPath,
  report: Report,
): Rule {
  const { step, at_most_s: atMostS = null, at_least_s: atLeastS = null } = data.duration;
  if (atMostS === null && atLeastS === null) {
    report([...path, 'duration'], {
      code: 'key-missing',
      message: 'one of these keys is missing: at_most_s, at_least_s',
      expected: 'at_most_s, at_least_s or both',
      received: 'none of them',
    });
  } else if (atMostS !== null && atLeastS !== null && atMostS < atLeastS) {
    report([...path, 'duration'], {
      code: 'bounds-reversed',
      message: `at_most_s (${atMostS} s) is less than at_least_s (${atLeastS} s)`,
      expected: 'at_least_s up to at_most_s',
      received: `${atLeastS} s, ${atMostS} s`,
    });
  }
  return { ...base, kind: 'duration', step, atMostS, atLeastS };
}

function readWhen(data: WhenData | undefined, path: KeyPath, report: Report): When | null {
  const within = readWithin(data, path, report);
  if (within === null) return null;
  const mode = data?.mode;
  return {
    ...within,
    mode: mode === undefined ? null : { channel: mode.channel ?? 'mode', is: mode.is },
  };
}

function readRule(data: RuleData, path: KeyPath, report: Report): Rule {
  if ('between' in data || 'events' in data) {
    const { id, statement } = data;
    const general = { id, statement, when: readWhen(data.when, [...path, 'when'], report) };
    return 'between' in data
      ? readBandRule(data, general, path, report)
      : readEventsRule(data, general, path, report);
  }
  const base: RuleBase = {
    id: data.id,
    statement: data.statement,
    within: readWithin(data.within, [...path, 'within'], report),
    persistsS: data.persists_s ?? 0,
  };
  if ('quantity' in data) return readQuantityRule(data, base, path, report);
  if ('duration' in data) return readDurationRule(data, base, path, report);
  if ('never' in data) return { ...base, kind: 'never', event: data.never.event };
  const { first, then } = data.order;
  return {
    ...base,
    kind: 'order',
    firstEvent: first.event,
    // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word, never awaited
    then:
      'event' in then
        ? { kind: 'event', event: then.event }
        : { kind: 'step-edge', step: then.step, edge: then.edge },
  };
}

/** Key paths, inside a rule, that name a step. */
function stepsNamed(rule: Rule): readonly Readonly<{ path: KeyPath; step: string }>[] {
  const named: { path: KeyPath; step: string }[] = [];
  const add = (path: KeyPath, step: string | null | undefined): void => {
    if (step !== null && step !== undefined && step !== '') named.push({ path, step });
  };
  if ('when' in rule) add(['when', 'step'], rule.when?.step);
  else add(['within', 'step'], rule.within?.step);
  if (rule.kind === 'duration') add(['duration', 'step'], rule.step);
  if (rule.kind === 'order' && rule.then.kind === 'step-edge') {
    add(['order', 'then', 'step'], rule.then.step);
  }
  if (rule.kind === 'events' && rule.ask.form === 'order') {
    const { first, then } = rule.ask;
    if (first.kind === 'step-edge') add(['events', 'first', 'step'], first.step);
    if (then.kind === 'step-edge') add(['events', 'then', 'step'], then.step);
  }
  return named;
}

/** So many names of steps are listed in a message. */
const MOST_SHOWN = 12;

/**
 * Steps that rules name and a plan has not.
 *
 * @returns in the order of the rules, once for each place that names one
 */
export function unknownSteps(
  rules: readonly Rule[],
  plan: Plan,
): readonly Readonly<{ rule: string; step: string }>[] {
  const known = new Set(plan.steps.map((step) => step.id));
  return rules.flatMap((rule) =>
    stepsNamed(rule)
      .filter(({ step }) => !known.has(step))
      .map(({ step }) => ({ rule: rule.id, step })),
  );
}

function reportUnknownSteps(rules: readonly Rule[], plan: Plan, report: Report): void {
  const known = plan.steps.map((step) => step.id);
  const shown = known.slice(0, MOST_SHOWN).join(', ');
  const list = known.length > MOST_SHOWN ? `${shown} and ${known.length - MOST_SHOWN} more` : shown;
  rules.forEach((rule, index) => {
    for (const { path, step } of stepsNamed(rule)) {
      if (known.includes(step)) continue;
      report(['rules', index, ...path], {
        code: 'step-unknown',
        message: `the plan has no step "${step}"; its steps are ${list}`,
        expected: `one of ${list}`,
        received: step,
      });
    }
  });
}

/**
 * Reads a rule file.
 *
 * @param text YAML or JSON
 * @param fileName for the issues
 * @param plan the plan whose steps the rules may name; without it step names are not checked
 * @returns the rules in SI; `value` is null where one of the issues is an error
 */
export function readRulesFile(
  text: string,
  fileName: string,
  plan: Plan | null = null,
): PartlyRead<readonly Rule[]> {
  const yaml = readYaml(text, fileName);
  if (yaml.value === null) return { value: null, understood: null, issues: yaml.issues };
  const checked = checkSchema(rulesFileSchema, yaml.value);
  const issues: Issue[] = [...yaml.issues, ...checked.issues];
  if (checked.understood === null) {
    return { value: null, understood: null, issues: capIssues(issues, fileName) };
  }
  const report = makeReport(yaml.value, issues, checked.faults);
  const rules = checked.understood.rules.map((rule, index) =>
    readRule(rule, ['rules', index], report),
  );
  reportRepeatedIds(
    rules.map((rule) => rule.id),
    (index) => ['rules', index, 'id'],
    report,
  );
  if (plan !== null) reportUnknownSteps(rules, plan, report);
  return {
    value: hasErrors(issues) ? null : rules,
    understood: rules,
    issues: capIssues(issues, fileName),
  };
}
