/** Ways through a schema: the part that stands at a key path, and the keys known there. */
import { z } from 'zod';
import type { KeyPath } from './yaml-text';

export type SchemaIssue = z.core.$ZodIssue;

/** A path of a schema issue; symbols never stand in a file. */
export function pathOf(issue: SchemaIssue): KeyPath {
  return issue.path.map((part) => (typeof part === 'number' ? part : String(part)));
}

/** The value at a key path; own properties only, so that no key reaches a prototype. */
export function valueAt(data: unknown, path: KeyPath): unknown {
  return path.reduce<unknown>((value, part) => {
    if (value === null || typeof value !== 'object') return undefined;
    return Object.getOwnPropertyDescriptor(value, part)?.value;
  }, data);
}

/** The options of a union that a value may be: where a key tells them apart, the one it names. */
function optionsFor(schema: z.ZodUnion, value: unknown): readonly z.core.$ZodType[] {
  if (!(schema instanceof z.ZodDiscriminatedUnion)) return schema.options;
  const key = schema.def.discriminator;
  const named = schema.options.filter((option) => {
    const tag: unknown = option instanceof z.ZodObject ? option.shape[key] : undefined;
    return tag instanceof z.ZodType && tag.safeParse(valueAt(value, [key])).success;
  });
  return named.length > 0 ? named : schema.options;
}

/**
 * Keys that the schema knows at a path, over the branches of its unions that the value may be.
 *
 * @param value what the schema is held against
 */
export function knownKeys(
  schema: z.core.$ZodType,
  path: KeyPath,
  value: unknown,
): readonly string[] {
  if (schema instanceof z.ZodOptional) return knownKeys(schema.unwrap(), path, value);
  if (schema instanceof z.ZodUnion) {
    const all = optionsFor(schema, value).flatMap((option) => knownKeys(option, path, value));
    return [...new Set(all)];
  }
  const [head, ...rest] = path;
  if (head === undefined) return schema instanceof z.ZodObject ? Object.keys(schema.shape) : [];
  const inside = valueAt(value, [head]);
  if (schema instanceof z.ZodObject) {
    const inner: unknown = schema.shape[String(head)];
    return inner instanceof z.ZodType ? knownKeys(inner, rest, inside) : [];
  }
  if (schema instanceof z.ZodArray) return knownKeys(schema.element, rest, inside);
  return schema instanceof z.ZodRecord ? knownKeys(schema.valueType, rest, inside) : [];
}

/** How far a value is from a branch: foreign keys weigh most, then faults. */
function distance(issues: readonly SchemaIssue[]): number {
  return issues.reduce((sum, issue) => {
    if (issue.code === 'unrecognized_keys') return sum + 10 * issue.keys.length;
    return sum + (issue.path.length === 0 ? 20 : 1);
  }, 0);
}

/** The branch of a union that the value was meant for, by its issues. */
export function likeliestBranch(
  branches: readonly (readonly SchemaIssue[])[],
): readonly SchemaIssue[] {
  const distances = branches.map(distance);
  return branches[distances.indexOf(Math.min(...distances))] ?? [];
}

/** The place of the option of a union that the value was meant for. */
export function likeliestIndex(schema: z.ZodUnion, value: unknown): number {
  const distances = schema.options.map((option) =>
    distance(z.core.safeParse(option, value).error?.issues ?? []),
  );
  return distances.indexOf(Math.min(...distances));
}

function likeliestOption(schema: z.ZodUnion, value: unknown): z.core.$ZodType | undefined {
  return schema.options[likeliestIndex(schema, value)];
}

/**
 * The schema that stands at a key path, by the branch of each union that the value was meant for.
 *
 * @returns null where the schema knows no such place
 */
export function schemaAt(
  schema: z.core.$ZodType,
  value: unknown,
  path: KeyPath,
): z.core.$ZodType | null {
  const [head, ...rest] = path;
  if (head === undefined) return schema;
  if (schema instanceof z.ZodOptional) return schemaAt(schema.unwrap(), value, path);
  if (schema instanceof z.ZodUnion) {
    const option = likeliestOption(schema, value);
    return option === undefined ? null : schemaAt(option, value, path);
  }
  const inside = valueAt(value, [head]);
  if (schema instanceof z.ZodObject) {
    const inner: unknown = schema.shape[String(head)];
    return inner instanceof z.ZodType ? schemaAt(inner, inside, rest) : null;
  }
  if (schema instanceof z.ZodArray) return schemaAt(schema.element, inside, rest);
  if (schema instanceof z.ZodRecord) return schemaAt(schema.valueType, inside, rest);
  if (!(schema instanceof z.ZodTuple)) return null;
  const item = schema.def.items[Number(head)];
  return item === undefined ? null : schemaAt(item, inside, rest);
}
