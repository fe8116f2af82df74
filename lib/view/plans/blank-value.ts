/** Values that a form starts with: what a schema asks for, still empty. */
import { z } from 'zod';

/** What a schema says of itself. */
export function described(schema: unknown, otherwise: string): string {
  return schema instanceof z.ZodType ? (schema.description ?? otherwise) : otherwise;
}

/** A value of the schema's shape with nothing in it; what is optional is left out. */
export function blankOf(schema: unknown): unknown {
  if (schema instanceof z.ZodOptional) return undefined;
  if (schema instanceof z.ZodNullable || schema instanceof z.ZodNumber) return null;
  if (schema instanceof z.ZodObject) {
    const fields = Object.entries(schema.shape).map(
      ([key, inner]) => [key, blankOf(inner)] as const,
    );
    return Object.fromEntries(fields.filter(([, value]) => value !== undefined));
  }
  if (schema instanceof z.ZodUnion) return blankOf(schema.options[0]);
  if (schema instanceof z.ZodTuple) return schema.def.items.map(blankOf);
  if (schema instanceof z.ZodArray) return [blankOf(schema.element)];
  if (schema instanceof z.ZodEnum) return schema.options[0];
  if (schema instanceof z.ZodLiteral) return [...schema.values][0];
  return '';
}

function isMapping(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * A value turned into another form of the same thing: what both forms know under one key, and the
 * other form takes, is kept.
 */
export function turnedInto(schema: unknown, value: unknown): unknown {
  const blank = blankOf(schema);
  if (!(schema instanceof z.ZodObject) || !isMapping(blank) || !isMapping(value)) return blank;
  const kept = Object.entries(schema.shape).flatMap(([key, inner]) => {
    if (value[key] === undefined || !(inner instanceof z.ZodType)) return [];
    return inner.safeParse(value[key]).success ? [[key, value[key]] as const] : [];
  });
  // Keys stand in the order of the schema, id and statement first.
  const merged = { ...blank, ...Object.fromEntries(kept) };
  const order = Object.keys(schema.shape).filter((key) => key in merged);
  return Object.fromEntries(order.map((key) => [key, merged[key]]));
}
