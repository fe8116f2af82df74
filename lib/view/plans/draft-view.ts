/** A draft of a plan or rule set as its editor shows it: what is wrong, the list, the form of one part. */
import { z } from 'zod';
import { DRAFT_SECTIONS } from '../../core/debrief/draft-sections';
import { BUILT_IN_BLOCKS } from '../../core/debrief/nodes/built-in-blocks';
import { readTemplateFile } from '../../core/debrief/template/read-template-file';
import { templateChanges } from '../../core/debrief/template/template-changes';
import { templateFileSchema } from '../../core/debrief/template/template-schema';
import type { Issue } from '../../core/result';
import { listPath } from '../../core/session/compare-versions';
import type { VersionedKind } from '../../core/session/file-identity';
import { nameFromId } from '../../core/session/name-from-id';
import { planFileSchema } from '../../core/session/plan-schema';
import { readPlanFile } from '../../core/session/read-plan-file';
import { readRulesFile } from '../../core/session/read-rules-file';
import { rulesFileSchema } from '../../core/session/rules-schema';
import { valueAt } from '../../core/session/schema-walk';
import { formatKeyPath, type KeyPath, readYaml } from '../../core/session/yaml-text';
import { gravestFirst, type IssueRow, issueRows } from '../import-view';
import { blankOf, described } from './blank-value';
import { ITEM_WORDS } from './register-view';
import { type FormNode, schemaForm } from './schema-form';

export const FILE_NAMES: Readonly<Record<VersionedKind, string>> = {
  plan: 'plan.yaml',
  rules: 'rules.yaml',
  template: 'template.yaml',
};

export type DraftItem = Readonly<{
  index: number;
  id: string;
  name: string;
  /** The statement of a rule; what a step does. */
  summary: string;
  problemCount: number;
}>;

/** `data` is null where the text is no YAML: there is then no form of it. */
export type DraftView = Readonly<{
  data: unknown;
  isValid: boolean;
  issues: readonly IssueRow[];
  items: readonly DraftItem[];
  problems: ReadonlyMap<string, string>;
}>;

function issuesOf(kind: VersionedKind, text: string): readonly Issue[] {
  const name = FILE_NAMES[kind];
  if (kind === 'template') return readTemplateFile(text, name, BUILT_IN_BLOCKS).issues;
  return kind === 'plan' ? readPlanFile(text, name).issues : readRulesFile(text, name).issues;
}

function wordAt(item: unknown, key: string): string {
  const value = valueAt(item, [key]);
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

function summaryOf(kind: VersionedKind, item: unknown): string {
  if (kind === 'rules') return wordAt(item, 'statement');
  if (kind === 'template') return wordAt(item, 'heading');
  const [hold, to] = [wordAt(item, 'hold_m'), wordAt(item, 'to_m')];
  const lasts = wordAt(item, 'planned_s');
  const does = hold !== '' ? `hold at ${hold} m` : `move to ${to} m`;
  return lasts === '' ? does : `${does}, ${lasts} s`;
}

/** What a person should know who saves a version in place of another; empty where there is nothing. */
export function toldChanges(kind: VersionedKind, before: string, after: string): readonly string[] {
  if (kind !== 'template' || before === after) return [];
  const read = (text: string) =>
    readTemplateFile(text, FILE_NAMES.template, BUILT_IN_BLOCKS).understood;
  const [old, now] = [read(before), read(after)];
  return old === null || now === null ? [] : templateChanges(old, now);
}

export function draftView(kind: VersionedKind, text: string): DraftView {
  const issues = issuesOf(kind, text);
  const data = readYaml(text, FILE_NAMES[kind]).value?.data ?? null;
  const problems = new Map<string, string>();
  for (const { keyPath = '', message } of issues) problems.set(keyPath, message);
  const path = listPath(kind);
  const list = valueAt(data, path);
  const start = formatKeyPath(path);
  const items = (Array.isArray(list) ? list : []).map((item: unknown, index): DraftItem => {
    const place = `${start}[${index}]`;
    const id = wordAt(item, 'id');
    const problemCount = issues.filter(
      ({ keyPath = '' }) => keyPath === place || keyPath.startsWith(`${place}.`),
    ).length;
    const name = id === '' ? nameFromId(`${ITEM_WORDS[kind]}-${index + 1}`) : nameFromId(id);
    return { index, id, name, summary: summaryOf(kind, item), problemCount };
  });
  return {
    data,
    isValid: issues.every(({ severity }) => severity !== 'error'),
    issues: issueRows(gravestFirst(issues)),
    items,
    problems,
  };
}

function itemSchema(kind: VersionedKind): z.ZodUnion {
  if (kind === 'template') return templateFileSchema.shape.sections.element;
  return kind === 'plan'
    ? planFileSchema.shape.plan.shape.steps.element
    : rulesFileSchema.shape.rules.element;
}

/** The form of one rule or step. */
export function itemForm(kind: VersionedKind, view: DraftView, index: number): FormNode {
  const path = [...listPath(kind), index];
  return schemaForm(itemSchema(kind), { path, data: view.data, problems: view.problems });
}

/** The form of what stands outside the list: title and id; for a plan its thresholds as well. */
export function headForm(kind: VersionedKind, view: DraftView): FormNode {
  const place = { data: view.data, problems: view.problems };
  if (kind === 'rules') {
    return schemaForm(rulesFileSchema.omit({ rules: true }), { ...place, path: [] });
  }
  if (kind === 'template') {
    return schemaForm(templateFileSchema.omit({ sections: true }), { ...place, path: [] });
  }
  const head = planFileSchema.shape.plan.omit({ steps: true });
  return schemaForm(head, { ...place, path: ['plan'] });
}

/** The first id that a form allows and that is not taken, where it allows some words only. */
function freeWord(option: unknown, taken: ReadonlySet<string>): string | null {
  const id = option instanceof z.ZodObject ? option.shape.id : undefined;
  if (!(id instanceof z.ZodEnum)) return null;
  const words = id.options.map(String);
  return words.find((word) => !taken.has(word)) ?? words[0] ?? null;
}

export type NewItem = Readonly<{ label: string; value: unknown }>;

/** What may be added to the list, each with an id that is still free. */
export function newItems(kind: VersionedKind, view: DraftView): readonly NewItem[] {
  const taken = new Set(view.items.map(({ id }) => id));
  const stem = ITEM_WORDS[kind];
  let number = view.items.length + 1;
  while (taken.has(`${stem}-${number}`)) number += 1;
  return itemSchema(kind).options.map((option, index) => ({
    label: described(option, `form ${index + 1}`),
    value: { ...Object(blankOf(option)), id: freeWord(option, taken) ?? `${stem}-${number}` },
  }));
}

/** Where the list stands, for edits of it. */
export function listPathOf(kind: VersionedKind): KeyPath {
  return listPath(kind);
}

/** What was typed in a field for a number; text that is none stays text and is then named as wrong. */
export function typedNumber(text: string): unknown {
  const plain = text.trim().replace('−', '-');
  if (plain === '') return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : text;
}

/** The program's own form, to take away from and to add to. */
const STARTING_TEMPLATE = `title: New template
sections:
${DRAFT_SECTIONS.map((section) => `  - id: ${section}\n`).join('')}`;

/** The text that a new plan, rule set or template starts with. */
export const STARTING_TEXTS: Readonly<Record<VersionedKind, string>> = {
  rules: 'title: New rule set\nrules: []\n',
  template: STARTING_TEMPLATE,
  plan: `plan:
  title: New plan
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps: []
`,
};
