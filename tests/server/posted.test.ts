import { expect, test } from 'vitest';
import { postedField, postedForm, postedId, postedNumber } from '@/lib/server/posted';

const POSTED: readonly unknown[] = [undefined, null, 7, 'x', [], {}, ['0'], new Map(), () => 1];

test('what is no form is a form without fields', () => {
  for (const posted of POSTED) expect([...postedForm(posted)]).toEqual([]);
  const form = new FormData();
  form.set('version', '2');
  expect(postedForm(form).get('version')).toBe('2');
});

test('an id is text, a number a number, and a field is looked for in anything', () => {
  expect(POSTED.map(postedId)).toEqual(['', '', '', 'x', '', '', '', '', '']);
  expect(POSTED.map(postedNumber).filter((value) => !Number.isNaN(value))).toEqual([7]);
  expect(POSTED.map((posted) => postedField(posted, 'fromS'))).toEqual(POSTED.map(() => undefined));
  expect(postedField({ fromS: 3 }, 'fromS')).toBe(3);
});
