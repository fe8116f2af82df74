/** An inline value: a figure inside a sentence, by its key. */
import { z } from 'zod';
import { LIVE_PLACED } from '../document';
import { FIGURE_FORMS } from '../figure-text';
import { keyRun, type ResolveContext, textRun } from '../resolve-context';
import type { Run } from '../resolved';

/** Node type of a live number inside a sentence. */
export const FIGURE_VALUE = 'figureValue';

/** Attributes of the inline node. `digits` null = by uncertainty. */
export const figureValueShape = {
  key: z.string().min(1).max(300),
  form: z.enum(FIGURE_FORMS),
  uncertainty: z.enum(['with', 'without']),
  digits: z.number().int().min(0).max(9).nullable(),
};

const schema = z.strictObject(figureValueShape);
export type FigureValueAttributes = z.infer<typeof schema>;

/** Its attributes without what it showed when it was placed. */
function read(attributes: unknown): ReturnType<typeof schema.safeParse> {
  const isObject = typeof attributes === 'object' && attributes !== null;
  const { [LIVE_PLACED]: _placed, ...own }: Record<string, unknown> = isObject
    ? { ...attributes }
    : {};
  return schema.safeParse(own);
}

/** What is wrong with one attribute, as one sentence; null when nothing is. */
export function figureValueAttributeFault(name: string, value: unknown): string | null {
  const attribute = Object.entries(schema.shape).find(([key]) => key === name)?.[1];
  const issue = attribute?.safeParse(value).error?.issues[0];
  return issue === undefined ? null : `${FIGURE_VALUE}.${name}: ${issue.message}`;
}

/** True where a value cannot be resolved: its key names no figure of the session. */
export function isMissingValue(attributes: unknown, context: ResolveContext): boolean {
  const parsed = read(attributes);
  return !parsed.success || !context.material.figures.has(parsed.data.key);
}

/** The value as a run; words that say so where there is none. */
export function resolveFigureValue(attributes: unknown, context: ResolveContext): Run {
  const parsed = read(attributes);
  if (!parsed.success) return textRun('[value that cannot be read]');
  const { key, ...options } = parsed.data;
  return keyRun(context, key, options) ?? textRun(`[no figure ${key}]`);
}
