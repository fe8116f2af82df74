import { expect, test } from 'vitest';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { markdownTable } from '@/lib/core/debrief/markdown/markdown-table';
import {
  lineStart,
  markdownCode,
  markdownRuns,
  markdownText,
} from '@/lib/core/debrief/markdown/markdown-text';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { Run, TableCell, TextMark } from '@/lib/core/debrief/resolved';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const text = (words: string, marks: readonly TextMark[] = [], href: string | null = null): Run => ({
  kind: 'text',
  text: words,
  marks,
  href,
});

/**
 * Source: CommonMark Spec 0.31.2 (2024), 2.4, example 14 (words that would be markup), and of the same
 * section: "Any ASCII punctuation character may be backslash-escaped"; GFM Spec 0.29 (2019), 6.9.
 */
const MARKUP = [
  '*not emphasized*',
  '<br/> not a tag',
  '[not a link](/foo)',
  '`not code`',
  '1. not a list',
  '* not a list',
  '# not a heading',
  '[foo]: /url "not a reference"',
  '&ouml; not a character entity',
  '- not a list',
  '+ not a list',
  '12) not a list',
  '=== no underline of a heading',
  '> not quoted',
  '| no | table |',
  '~~~ no code',
  'http://evil.example www.evil.example a@evil.example',
  '{{7*7}} {% include x %} $x^2$',
  '![no picture](http://evil.example/x.png)',
  '<script>alert(1)</script><!-- -->',
  'ends in a backslash \\',
];

test('no word of a text is markup, and each sign of it is still read', () => {
  for (const words of MARKUP) {
    const written = lineStart(markdownText(words));
    const escapes = /\\([!-/:-@[-`{-~])/g;
    expect(written.replace(escapes, '$1')).toBe(words);
    const bare = written.replace(escapes, 'x');
    expect(bare).not.toMatch(/[\\`*_{}[\]<>#|~&$@^]|:\/\/|www\.|^[-+=]|^\d+[.)]/);
  }
  expect(markdownText('a\u0000b\u202ec\nd')).toBe('a\ufffdb\\[U+202E\\]c d');
});

test('marks, links and code hold whatever stands in them', () => {
  expect(markdownRuns([text('bold', ['bold']), text(' and '), text('x_1', ['code'])], '<br>')).toBe(
    '**bold** and <code>x\\_1</code>',
  );
  expect(markdownRuns([text('half', ['italic']), text('word')], '<br>')).toBe('<em>half</em>word');
  expect(markdownRuns([text('a', [], 'javascript:alert(1)')], '<br>')).toBe('a');
  expect(markdownRuns([text('a', [], 'https://e.example/(b)?c=1&d="e"')], '<br>')).toBe(
    '[a](https://e.example/%28b%29?c=1&amp;d=%22e%22)',
  );
  expect(markdownCode('a\n```\nb')).toBe('````\na\n```\nb\n````');
  expect(markdownCode('{{7*7}}</code><script>')).toBe(
    '<pre><code>&#123;&#123;7*7}}&lt;/code&gt;&lt;script&gt;</code></pre>',
  );
});

test('no text makes a picture of the link after it', () => {
  const runs = [text('See!'), text('the log', [], 'https://e.example/x.png')];
  expect(markdownRuns(runs, '<br>')).toBe('See\\![the log](https://e.example/x.png)');
});

/** Source: CommonMark Spec 0.31.2 (2024), 5.1: "a block quote" ends at a line without its marker. */
test('no line of a quotation stands outside of it, however many blank lines it holds', () => {
  const code = { kind: 'code', id: 'block-2', text: 'a\n\n\n<img src=x>\n\n\n\nb' } as const;
  const record = makeRecord(
    resolveDocument({ type: 'doc', content: [] }, sampleMaterial, BUILT_IN_BLOCKS),
    sampleMaterial,
    {
      number: 1,
      revision: 1,
      previousSha256: null,
      title: 'T',
      publishedAtIso: '',
      publishedBy: '',
    },
  );
  const sealed = sealRecord({
    ...record,
    blocks: [{ kind: 'quote', id: 'block-1', blocks: [code] }],
  });
  const markdown = renderMarkdown(sealed).get('debrief.md') ?? '';
  expect(markdown).toContain('\n\n> ```\n> a\n>\n>\n> <img src=x>\n>\n>\n>\n> b\n> ```\n\n');
});

test('a table keeps every cell in its column where cells span', () => {
  const cell = (words: string, span: Partial<TableCell> = {}): TableCell => {
    const plain = { header: false, colspan: 1, rowspan: 1, tone: 'plain' } as const;
    return { runs: [text(words)], ...plain, ...span };
  };
  const columns = ['A', 'B', 'C'].map((label) => ({ label, align: 'end' }) as const);
  const rows = [
    [cell('tall', { rowspan: 2 }), cell('wide|', { colspan: 2 })],
    [cell('b'), cell('c')],
  ];
  const base = { kind: 'table', id: 'block-1', number: 1, caption: '', note: '' } as const;
  expect(markdownTable({ ...base, columns, rows }).split('\n')).toEqual([
    '| A | B | C |',
    '| ---: | ---: | ---: |',
    '| tall | wide\\| |  |',
    '|  | b | c |',
  ]);
});

test('a record gives its text, a picture for each figure and itself; twice the same', () => {
  const doc = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
  const resolved = resolveDocument(doc, sampleMaterial, BUILT_IN_BLOCKS);
  const place = { number: 7, revision: 1, previousSha256: null, title: 'Arrival <b>' };
  const imprint = { ...place, publishedAtIso: '2016-03-10T08:00:00.000Z', publishedBy: 'Somebody' };
  const sealed = sealRecord(makeRecord(resolved, sampleMaterial, imprint));
  const files = renderMarkdown(sealed);
  expect([...renderMarkdown(structuredClone(sealed))]).toEqual([...files]);
  const figures = resolved.blocks.filter(({ kind }) => kind === 'figure');
  expect(figures.length).toBeGreaterThan(0);
  expect(files.size).toBe(figures.length + 2);
  const markdown = files.get('debrief.md') ?? '';
  expect(markdown).toContain('\n# Arrival \\<b\\>\n');
  expect(markdown).toContain(sealed.sha256);
  expect(files.get('record.json')).toBe(sealed.json);
  for (const block of resolved.blocks) {
    if (block.kind !== 'table' && block.kind !== 'figure') continue;
    const kind = block.kind === 'table' ? 'Table' : 'Figure';
    expect(markdown).toContain(`**${kind} ${block.number}.** ${markdownText(block.caption)}`);
  }
  expect(files.get('figures/figure-1.svg')).toMatch(/^<svg xmlns=.*<rect width="100%"/s);
  expect(markdown).toContain('](figures/figure-1.svg)');
});
