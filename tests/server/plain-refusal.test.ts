/** What does not fit an input is said in words that name what is counted. */
import { expect, test } from 'vitest';
import { z } from 'zod';
import { plainRefusal } from '@/lib/server/plain-refusal';

const refused = (schema: z.ZodType, value: unknown): string | undefined =>
  schema.safeParse(value, { error: plainRefusal }).error?.issues[0]?.message;

test.each([
  ['a text that is too long', z.string().max(3), 'long', 'At most 3 characters are taken.'],
  ['a text of nothing', z.string().min(1), '', 'Something is needed here.'],
  ['a text that is too short', z.string().min(3), 'ab', 'At least 3 characters are needed.'],
  ['a list that is too long', z.array(z.int()).max(2), [1, 2, 3], 'At most 2 entries are taken.'],
  ['a list of one at most', z.array(z.int()).max(1), [1, 2], 'At most 1 entry is taken.'],
  ['an empty list', z.array(z.int()).min(1), [], 'Something is needed here.'],
  ['a list that is too short', z.array(z.int()).min(2), [1], 'At least 2 entries are needed.'],
  ['a number over its bound', z.number().max(5), 6, 'At most 5 is taken.'],
  ['a number on a bound that it must stay under', z.number().lt(5), 5, 'Less than 5 is taken.'],
  ['a number under its bound', z.number().min(1), 0, 'At least 1 is needed.'],
  ['nought where more is asked for', z.number().positive(), 0, 'More than 0 is needed.'],
  ['a choice that is none', z.enum(['a', 'b']), 'c', 'This is none of the choices.'],
  ['text for a number', z.number(), 'x', 'This is missing, or not of the kind that is asked for.'],
])('%s', (_, schema, value, words) => {
  expect(refused(schema, value)).toBe(words);
});

test('a schema’s own words come first', () => {
  expect(refused(z.string().min(1, 'A reason is needed.'), '')).toBe('A reason is needed.');
});
