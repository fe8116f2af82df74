import { expect, test } from 'vitest';
import { readKeptWords, wordsOf } from '@/lib/view/kept-words';

test('words of a form come back as they were typed, several choices of a field too', () => {
  const form = new FormData();
  form.append('parameter', 'jet thrust, +y “left”');
  form.append('evidence', 'a b');
  form.append('evidence', 'c');
  form.append('$ACTION_ID_1', 'x');
  form.append('picture', new Blob(['x']));
  const kept = { words: wordsOf(form), since: 3 };
  expect(readKeptWords(JSON.stringify(kept))).toEqual({
    words: { parameter: ['jet thrust, +y “left”'], evidence: ['a b', 'c'] },
    since: 3,
  });
});

test('what no form has kept is taken for nothing', () => {
  const texts = ['', '{', 'null', '{"words":{}}', '{"words":{"now":"5"},"since":null}'];
  expect(texts.map(readKeptWords)).toEqual([null, null, null, null, null]);
  expect(readKeptWords('{"words":{"now":["5"]},"since":"x"}')).toBeNull();
});
