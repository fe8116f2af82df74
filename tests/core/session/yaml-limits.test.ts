/** Files made to cost much: they are refused before they are parsed. */
import { expect, test } from 'vitest';
import { readYaml } from '@/lib/core/session/yaml-text';

const REFUSED_AT_ONCE: readonly (readonly [name: string, text: string, code: string])[] = [
  ['100,000 nested brackets', '['.repeat(100_000), 'yaml-too-deep'],
  [
    '100,000 nested brackets, closed, as JSON',
    `{"title":${'['.repeat(100_000)}${']'.repeat(100_000)}}`,
    'yaml-too-deep',
  ],
  ['100,000 mappings in each other', '{a: '.repeat(100_000), 'yaml-too-deep'],
  ['100,000 lists in each other on one line', `a: 1\n${'- '.repeat(100_000)}x`, 'yaml-too-deep'],
  ['450,000 keys in each other on one line', ': '.repeat(450_000), 'yaml-too-deep'],
  ['1 MB of numbers on one line', `[${'1,'.repeat(499_000)}1]`, 'file-too-large'],
  ['1 MB of commas', `[${','.repeat(999_000)}]`, 'file-too-large'],
  ['1 MB of quotes', '"'.repeat(999_000), 'file-too-large'],
  ['1 MB of line ends', '\n'.repeat(999_000), 'file-too-large'],
  ['1 MB of comments', '#\n'.repeat(499_000), 'file-too-large'],
  ['40,000 anchors', 'a: &a 1\n'.repeat(40_000), 'file-too-large'],
  ['more than a million characters', 'x'.repeat(1_000_001), 'file-too-large'],
];

test.each(REFUSED_AT_ONCE)('%s are refused at once, with one message', (_name, text, code) => {
  const startedMs = performance.now();
  const { value, issues } = readYaml(text, 'session.yaml');
  expect(performance.now() - startedMs).toBeLessThan(1000); // 0.1 s on a quiet machine
  expect(value).toBeNull();
  expect(issues).toMatchObject([{ code, severity: 'error', file: 'session.yaml' }]);
  expect(issues[0]?.message).toMatch(/deeper than 32 levels|at most [0-9]+ are read/);
});

test('aliases that multiply are refused before they are multiplied', () => {
  const [first, ...others] = [...'abcdefghi'];
  const lines = others.map((name, index) => {
    return `${name}: &${name} [${Array(9).fill(`*${'abcdefghi'[index]}`).join(', ')}]`;
  });
  const { value, issues } = readYaml(`${first}: &${first} [x, x]\n${lines.join('\n')}\n`, 'p.yaml');
  expect(value).toBeNull();
  expect(issues).toMatchObject([{ code: 'yaml-aliases', file: 'p.yaml' }]);
});

test('a long text on one line, and brackets in words, are no reason to refuse', () => {
  const words = `${'see [1], [2] and (a[0]) '.repeat(20)}${'word '.repeat(50_000)}`;
  const { value, issues } = readYaml(`title: "${words}"\n`, 'session.yaml');
  expect(issues).toEqual([]);
  expect(value?.data).toEqual({ title: words });
});

test('32 levels are read, 33 are refused with their line', () => {
  const nested = (levels: number): string => `a:\n  ${'['.repeat(levels)}1${']'.repeat(levels)}\n`;
  expect(readYaml(nested(31), 'p.yaml').issues).toEqual([]);
  expect(readYaml(nested(33), 'p.yaml')).toMatchObject({
    value: null,
    issues: [{ code: 'yaml-too-deep', line: 2 }],
  });
});
