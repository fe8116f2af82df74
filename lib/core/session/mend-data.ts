/**
 * A file's plain value with its faulty parts taken out, so that the checks behind the schema still
 * see the rest. Foreign keys go, optional values that are wrong go, and a stand-in takes the place
 * of a wrong value that must be there.
 */
import { z } from 'zod';
import { pathOf, type SchemaIssue, schemaAt, valueAt } from './schema-walk';
import type { KeyPath } from './yaml-text';

/** The first candidate that the schema takes; the first of all where none is taken. */
function firstTaken(schema: z.core.$ZodType, candidates: readonly unknown[]): unknown {
  const taken = candidates.find((each) => z.core.safeParse(schema, each).success);
  return taken === undefined ? candidates[0] : taken;
}

/** A stand-in of the schema's type. Texts differ by place, so that none seems to stand twice. */
function standIn(schema: z.core.$ZodType, place: string): unknown {
  if (schema instanceof z.ZodOptional) return standIn(schema.unwrap(), place);
  if (schema instanceof z.ZodString) return `?${place}`;
  if (schema instanceof z.ZodNumber) return firstTaken(schema, [1, 0]);
  if (schema instanceof z.ZodEnum) return schema.options[0];
  if (schema instanceof z.ZodLiteral) return schema.def.values[0];
  if (schema instanceof z.ZodArray) {
    const item = standIn(schema.element, place);
    return firstTaken(schema, [[], [item], [item, item, item]]);
  }
  if (schema instanceof z.ZodTuple) {
    return schema.def.items.map((item, index) => standIn(item, `${place}.${index}`));
  }
  if (schema instanceof z.ZodObject) {
    const shape = Object.entries<z.core.$ZodType>(schema.shape);
    const needed = shape.filter(([, inner]) => !(inner instanceof z.ZodOptional));
    return Object.fromEntries(
      needed.map(([key, inner]) => [key, standIn(inner, `${place}.${key}`)]),
    );
  }
  if (schema instanceof z.ZodUnion) {
    const [option] = schema.options;
    return option === undefined ? null : standIn(option, place);
  }
  return {};
}

function replace(parent: object, key: string | number, value: unknown): void {
  // Defined, not assigned: a key such as __proto__ stays a plain key.
  Object.defineProperty(parent, key, {
    value,
    writable: true,
    enumerable: true,
    configurable: true,
  });
}

function mendOne(schema: z.core.$ZodType, data: unknown, issue: SchemaIssue, path: KeyPath): void {
  if (issue.code === 'unrecognized_keys') {
    const holder = valueAt(data, path);
    if (holder === null || typeof holder !== 'object') return;
    for (const key of issue.keys) Reflect.deleteProperty(holder, key);
    return;
  }
  const parent = valueAt(data, path.slice(0, -1));
  const key = path.at(-1);
  if (key === undefined || parent === null || typeof parent !== 'object') return;
  const inner = issue.code === 'invalid_key' ? null : schemaAt(schema, data, path);
  if (inner === null || inner instanceof z.ZodOptional) Reflect.deleteProperty(parent, key);
  else replace(parent, key, standIn(inner, path.join('.').replace(/[[\]]/g, '')));
}

export type PlacedIssue = Readonly<{ issue: SchemaIssue; path: KeyPath }>;

/** Issues of a schema with their whole paths, each union's by its likeliest branch. */
export function placeIssues(issues: readonly SchemaIssue[], base: KeyPath = []): PlacedIssue[] {
  return issues.map((issue) => ({ issue, path: [...base, ...pathOf(issue)] }));
}

/**
 * Takes out what the schema found wrong.
 *
 * @param data the value that was checked; left as it is
 * @param faults what is wrong with it, by whole path
 * @returns a mended copy, to be held against the schema again
 */
export function mendData(
  schema: z.core.$ZodType,
  data: unknown,
  faults: readonly PlacedIssue[],
): unknown {
  const copy = structuredClone(data);
  for (const { issue, path } of faults) mendOne(schema, copy, issue, path);
  return copy;
}
