/**
 * The form of a plan or a rule set, made from the schema that reads its file: what the file may say can
 * be said in the form, and nothing else. A field that is wrong is shown as it stands.
 */
import { z } from 'zod';
import { likeliestIndex, valueAt } from '../../core/session/schema-walk';
import { formatKeyPath, type KeyPath } from '../../core/session/yaml-text';
import { blankOf, described, turnedInto } from './blank-value';
import { fieldWords, hintWords, profileHeads } from './form-words';

type Control =
  | Readonly<{ control: 'absent'; blank: unknown }>
  | Readonly<{ control: 'text' | 'number'; value: string }>
  | Readonly<{ control: 'choice'; value: string; words: readonly string[] }>
  /** Fields that belong together, or the items of a list: then `addition` is what one more starts with. */
  | Readonly<{ control: 'group'; nodes: readonly FormNode[]; addition?: unknown }>
  | Readonly<{
      control: 'variant';
      chosen: number;
      /** What may stand here, each with the value it would start with. */
      options: readonly Readonly<{ label: string; value: unknown }>[];
      inner: FormNode | null;
    }>
  | Readonly<{ control: 'points'; rows: readonly (readonly string[])[]; heads: readonly string[] }>
  | Readonly<{ control: 'numbers'; values: readonly string[]; heads: readonly string[] }>
  | Readonly<{ control: 'list'; items: readonly string[]; of: 'text' | 'number' }>;

/** One field, with its place in the file. `problem` is what the file's reader says against it. */
export type FormNode = Readonly<{
  path: KeyPath;
  id: string;
  label: string;
  unit: string;
  hint: string;
  isOptional: boolean;
  problem: string | null;
}> &
  Control;

type Place = Readonly<{
  path: KeyPath;
  value: unknown;
  problems: ReadonlyMap<string, string>;
  isOptional: boolean;
  label?: string;
}>;

/** What stands in a field; a text where a number should be is shown too. */
export function shownValue(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

/** Heads of three numbers. */
const AXES = ['x', 'y', 'z'];

function isTextUnion(schema: z.ZodUnion): boolean {
  return schema.options.every(
    (option) => option instanceof z.ZodString || option instanceof z.ZodLiteral,
  );
}

/** All forms that a union allows, those of unions inside it too. */
function flatUnion(schema: z.ZodUnion): z.ZodUnion<readonly z.ZodType[]> {
  const options = schema.options.flatMap((option): readonly z.ZodType[] => {
    if (option instanceof z.ZodUnion) return flatUnion(option).options;
    return option instanceof z.ZodType ? [option] : [];
  });
  return z.union(options);
}

function isNumber(schema: unknown): boolean {
  return schema instanceof z.ZodNumber;
}

function isNumbers(schema: unknown): boolean {
  return schema instanceof z.ZodTuple && schema.def.items.every(isNumber);
}

function groupControl(schema: z.ZodObject, place: Place): Control {
  const nodes = Object.entries(schema.shape).flatMap(([key, inner]): FormNode[] => {
    if (!(inner instanceof z.ZodType) || inner instanceof z.ZodLiteral) return [];
    const value = valueAt(place.value, [key]);
    return [nodeOf(inner, { ...place, label: '', path: [...place.path, key], value })];
  });
  return { control: 'group', nodes };
}

function variantControl(union: z.ZodUnion, place: Place): Control {
  const schema = flatUnion(union);
  const chosen = likeliestIndex(schema, place.value);
  const inner = schema.options[chosen];
  return {
    control: 'variant',
    chosen,
    options: schema.options.map((option, index) => ({
      label: described(option, `form ${index + 1}`),
      value: index === chosen ? place.value : turnedInto(option, place.value),
    })),
    inner: inner instanceof z.ZodType ? nodeOf(inner, { ...place, isOptional: false }) : null,
  };
}

function nullableControl(schema: z.ZodNullable, place: Place): Control {
  const held = schema.unwrap();
  const inner = held instanceof z.ZodUnion ? flatUnion(held) : held;
  if (!(inner instanceof z.ZodType)) return { control: 'text', value: shownValue(place.value) };
  const isOpen = place.value === null || place.value === undefined;
  const options = inner instanceof z.ZodUnion ? inner.options : [inner];
  const chosen =
    inner instanceof z.ZodUnion && !isOpen
      ? likeliestIndex(inner, place.value) + 1
      : isOpen
        ? 0
        : 1;
  const option = options[chosen - 1];
  return {
    control: 'variant',
    chosen,
    options: [
      { label: 'No bound.', value: null },
      ...options.map((each, index) => ({
        label: described(each, `form ${index + 1}`),
        value: index + 1 === chosen ? place.value : turnedInto(each, place.value),
      })),
    ],
    inner: option instanceof z.ZodType ? nodeOf(option, { ...place, isOptional: false }) : null,
  };
}

/** What people call an item of a list: its title or id, else its place. */
function itemName(value: unknown, index: number): string {
  const named = [valueAt(value, ['title']), valueAt(value, ['id'])];
  return named.map(shownValue).find((name) => name !== '') ?? `${index + 1}`;
}

function listControl(schema: z.ZodArray, place: Place): Control {
  const items: readonly unknown[] = Array.isArray(place.value) ? place.value : [];
  if (isNumbers(schema.element)) {
    const rows = items.map((row) => (Array.isArray(row) ? row.map(shownValue) : [shownValue(row)]));
    return { control: 'points', rows, heads: profileHeads(place.path.at(-1) ?? '') };
  }
  const { element } = schema;
  if (element instanceof z.ZodUnion && !isTextUnion(element)) {
    const nodes = items.map((value, index) => {
      const at = { ...place, path: [...place.path, index], value, label: itemName(value, index) };
      return { ...nodeOf(element, at), isOptional: true };
    });
    return { control: 'group', nodes, addition: blankOf(element) };
  }
  const of = isNumber(element) ? 'number' : 'text';
  return { control: 'list', items: items.map(shownValue), of };
}

function tupleControl(schema: z.ZodTuple, place: Place): Control {
  const items: readonly unknown[] = Array.isArray(place.value) ? place.value : [];
  if (isNumbers(schema)) {
    const values = schema.def.items.map((_item, index) => shownValue(items[index]));
    return { control: 'numbers', values, heads: values.length > 2 ? AXES : ['from', 'to'] };
  }
  const labels = ['Lower bound', 'Upper bound'];
  const nodes = schema.def.items.flatMap((item, index): FormNode[] => {
    if (!(item instanceof z.ZodType)) return [];
    const path = [...place.path, index];
    return [nodeOf(item, { ...place, path, value: items[index], label: labels[index] ?? '' })];
  });
  return { control: 'group', nodes };
}

function controlOf(schema: z.ZodType, place: Place): Control {
  if (schema instanceof z.ZodObject) return groupControl(schema, place);
  if (schema instanceof z.ZodNullable) return nullableControl(schema, place);
  if (schema instanceof z.ZodUnion && !isTextUnion(schema)) return variantControl(schema, place);
  if (schema instanceof z.ZodArray) return listControl(schema, place);
  if (schema instanceof z.ZodTuple) return tupleControl(schema, place);
  const value = shownValue(place.value);
  if (schema instanceof z.ZodEnum) {
    return { control: 'choice', value, words: schema.options.map(String) };
  }
  return { control: isNumber(schema) ? 'number' : 'text', value };
}

function nodeOf(outer: z.ZodType, place: Place): FormNode {
  const isOptional = outer instanceof z.ZodOptional;
  const inner = isOptional ? outer.unwrap() : outer;
  const schema = inner instanceof z.ZodType ? inner : outer;
  const { path } = place;
  const id = formatKeyPath(path);
  const words = fieldWords(path.at(-1) ?? '');
  const isAbsent = isOptional && place.value === undefined;
  const said = described(outer, described(schema, ''));
  const named = {
    path,
    id,
    label: place.label === undefined || place.label === '' ? words.label : place.label,
    unit: words.unit,
    hint: hintWords(said, isAbsent ? '' : words.unit),
    isOptional,
    problem: place.problems.get(id) ?? null,
  };
  if (isAbsent) {
    return { ...named, control: 'absent', blank: blankOf(schema) };
  }
  return { ...named, ...controlOf(schema, { ...place, isOptional }) };
}

export type FormPlace = Readonly<{
  path: KeyPath;
  /** The whole file's data. */
  data: unknown;
  /** What is said against the file, by key path. */
  problems: ReadonlyMap<string, string>;
}>;

/** The form of what stands at a place of the file. */
export function schemaForm(schema: z.ZodType, { path, data, problems }: FormPlace): FormNode {
  return nodeOf(schema, { path, value: valueAt(data, path), problems, isOptional: false });
}
