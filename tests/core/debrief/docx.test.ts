import { SaxesParser } from 'saxes';
import { expect, test } from 'vitest';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { ResolvedBlock, Run, TableCell } from '@/lib/core/debrief/resolved';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const resolved = resolveDocument(
  draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds()),
  sampleMaterial,
  BUILT_IN_BLOCKS,
);
const imprint = {
  number: 7,
  revision: 1,
  previousSha256: null,
  title: 'Arrival <b>',
  publishedAtIso: '2016-03-10T08:00:00.000Z',
  publishedBy: 'Somebody',
};
const sealed = sealRecord(makeRecord(resolved, sampleMaterial, imprint));

type Element = Readonly<{ name: string; attributes: Readonly<Record<string, string>> }>;
type Read = Readonly<{ elements: readonly Element[]; words: string }>;

/** Reads a part; throws where it is not well-formed XML. */
function read(xml: string): Read {
  const elements: Element[] = [];
  let words = '';
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => elements.push({ name, attributes }));
  parser.on('text', (text) => {
    words += text;
  });
  parser.on('error', (error) => {
    throw error;
  });
  parser.write(xml).close();
  return { elements, words };
}

function parts(record: SealedRecord) {
  const all = [...renderDocx(record)];
  const texts = all.flatMap(([name, part]) =>
    typeof part === 'string' ? [[name, read(part)] as const] : [],
  );
  return {
    texts: new Map(texts),
    pictures: all.flatMap(([, part]) => (typeof part === 'string' ? [] : [part])),
  };
}

const whole = parts(sealed);

function withBlocks(blocks: readonly ResolvedBlock[]): SealedRecord {
  return { ...sealed, record: { ...sealed.record, blocks } };
}

/** Source: ECMA-376-1:2016, 17.16.4.1 and 17.16.5.56 (SEQ), 17.4.78 (tblHeader). */
test('tables are native, their heads repeat, and captions count by fields', () => {
  const { texts } = whole;
  const again = renderDocx(structuredClone(sealed));
  for (const [name, part] of renderDocx(sealed))
    expect(Buffer.compare(Buffer.from(again.get(name) ?? ''), Buffer.from(part)), name).toBe(0);
  const { elements, words } = texts.get('word/document.xml') ?? { elements: [], words: '' };
  const tables = resolved.blocks.filter((block) => block.kind === 'table');
  const figures = resolved.blocks.filter((block) => block.kind === 'figure');
  const count = (name: string) => elements.filter((each) => each.name === name).length;
  expect(tables.length).toBeGreaterThan(3);
  expect(count('w:tblHeader')).toBe(tables.length);
  const fields = elements.flatMap(({ attributes }) => attributes['w:instr'] ?? []);
  const captioned = tables.filter(({ number }) => number !== null).length;
  expect(fields.filter((field) => field.startsWith(' SEQ Table ')).length).toBe(captioned);
  expect(fields.filter((field) => field.startsWith(' SEQ Figure ')).length).toBe(figures.length);
  expect(words).toContain('Arrival <b>');
  expect(words).toContain(sealed.sha256);
  const headings = elements.filter(({ attributes }) =>
    /^Heading\d$/.test(attributes['w:val'] ?? ''),
  );
  expect(headings.length).toBeGreaterThan(
    resolved.blocks.filter(({ kind }) => kind === 'heading').length,
  );
});

/** Source: ECMA-376-2:2012, 9.3 (relationships), 10.1.2 (content types); ECMA-376-1, 17.13.6 (bookmarks). */
test('every part has a type, every reference an end, and the contents are a field with its entries', () => {
  const all = [...renderDocx(sealed).keys()];
  const of = (part: string) => whole.texts.get(part)?.elements ?? [];
  const types = of('[Content_Types].xml').map(({ attributes }) => attributes);
  const typed = (name: string) =>
    types.some(
      ({ PartName, Extension }) => PartName === `/${name}` || name.endsWith(`.${Extension}`),
    );
  expect(all.filter((name) => name !== '[Content_Types].xml' && !typed(name))).toEqual([]);
  const relations = of('word/_rels/document.xml.rels').flatMap(({ name, attributes }) =>
    name === 'Relationship' ? [attributes] : [],
  );
  const inside = relations.filter(({ TargetMode }) => TargetMode !== 'External');
  for (const { Target } of inside) expect(all).toContain(`word/${Target}`.replace('word/../', ''));
  const body = of('word/document.xml');
  const ids = new Set(relations.map(({ Id }) => Id));
  const asked = body.flatMap(({ attributes }) => attributes['r:id'] ?? attributes['r:embed'] ?? []);
  expect(asked.length).toBeGreaterThan(2);
  expect(asked.filter((id) => !ids.has(id))).toEqual([]);
  const marks = body.filter(({ name }) => name === 'w:bookmarkStart');
  const names = marks.map(({ attributes }) => attributes['w:name']);
  expect(new Set(names).size).toBe(names.length);
  const entries = body.flatMap(({ attributes }) => attributes['w:anchor'] ?? []);
  expect(entries.length).toBeGreaterThan(5);
  expect(entries.filter((entry) => !names.includes(entry))).toEqual([]);
  const turns = body.flatMap(({ attributes }) => attributes['w:fldCharType'] ?? []);
  expect(turns).toEqual(['begin', 'separate', 'end']);
});

/**
 * Source: Microsoft, [MS-EMF], 2.3.4.2: signature " EMF", bytes and records of the whole; 2.3: each
 * record says its size; 2.3.4.1: the last is EMR_EOF (14).
 */
test('a figure is a metafile whose records add up', () => {
  const { pictures } = whole;
  expect(pictures.length).toBeGreaterThan(0);
  for (const bytes of pictures) {
    const view = new DataView(bytes.buffer);
    expect([view.getUint32(0, true), view.getUint32(40, true)]).toEqual([1, 0x464d4520]);
    let [at, records, last] = [0, 0, 0];
    while (at < bytes.length) {
      last = view.getUint32(at, true);
      at += view.getUint32(at + 4, true);
      records += 1;
    }
    expect([at, records, last]).toEqual([view.getUint32(48, true), view.getUint32(52, true), 14]);
    expect(records).toBeGreaterThan(50);
  }
});

test('hostile content is text: no element, field or address is made from it', () => {
  const hostile = [
    '</w:t></w:r><w:fldSimple w:instr=" INCLUDETEXT c:\\x ">',
    '<script>alert(1)</script> {{7*7}} {MERGEFIELD x}',
    'a\u0000b\u202ec\ud800d\uffff',
    'line\nline',
  ];
  const run = (text: string, href: string | null = null): Run => ({
    kind: 'text',
    text,
    marks: ['code', 'bold', 'underline'],
    href,
  });
  const blocks = hostile.flatMap((text, at): readonly ResolvedBlock[] => [
    { kind: 'heading', id: `block-${at}`, level: 1, number: '1', runs: [run(text)] },
    {
      kind: 'paragraph',
      id: `p-${at}`,
      runs: [
        run(text, 'javascript:alert(1)'),
        run('x', 'http://[bad'),
        run('y', 'https://e.example/<a>"'),
      ],
    },
    { kind: 'code', id: `c-${at}`, text },
  ]);
  const { texts } = parts(withBlocks(blocks));
  const { elements, words } = texts.get('word/document.xml') ?? { elements: [], words: '' };
  expect(elements.filter(({ name }) => name === 'w:fldSimple')).toEqual([]);
  for (const text of hostile.slice(0, 2)) expect(words).toContain(text);
  expect(words).toContain('a\ufffdb[U+202E]c\ufffdd\ufffd');
  const { elements: relations } = texts.get('word/_rels/document.xml.rels') ?? { elements: [] };
  const outside = relations.filter(({ attributes }) => attributes.TargetMode === 'External');
  expect(outside.map(({ attributes }) => attributes.Target)).toEqual([
    'https://e.example/%3Ca%3E%22',
  ]);
});

test('a cell of more words than a call takes arguments is written', () => {
  const runs: readonly Run[] = [
    { kind: 'text', text: 'a '.repeat(200_000), marks: [], href: null },
  ];
  const cell: TableCell = { runs, header: false, tone: 'plain', colspan: 1, rowspan: 1 };
  const base = { kind: 'table', id: 'block-1', number: null, caption: '', note: '' } as const;
  const columns = [{ label: 'A', align: 'start' }] as const;
  const xml = renderDocx(withBlocks([{ ...base, columns, rows: [[cell]] }]));
  expect(xml.get('word/document.xml')).toContain('a a a');
});

/** Source: ECMA-376-1:2016, 17.4.17: the spans of a row's cells fill its grid; 17.4.84: vMerge. */
test('cells that span leave every row as wide as the grid', () => {
  const cell = (text: string, colspan = 1, rowspan = 1): TableCell => ({
    runs: [{ kind: 'text', text, marks: [], href: null }],
    header: false,
    tone: 'plain',
    colspan,
    rowspan,
  });
  const rows = [
    [cell('a', 1, 3), cell('b', 2)],
    [cell('c', 2, 2)],
    [],
    [cell('d'), cell('e'), cell('f')],
  ];
  const columns = ['A', 'B', 'C'].map((label) => ({ label, align: 'start' }) as const);
  const table = {
    kind: 'table',
    id: 'block-1',
    number: 1,
    caption: 'x',
    note: '',
    columns,
    rows,
  } as const;
  const xml = renderDocx(withBlocks([table])).get('word/document.xml');
  const body = String(xml).split('SEQ Table')[1]?.split('</w:tbl>')[0] ?? '';
  const widths = body
    .split('<w:tr>')
    .slice(1)
    .map((row) =>
      row
        .split('<w:tc>')
        .slice(1)
        .reduce((sum, each) => sum + Number(/gridSpan w:val="(\d)"/.exec(each)?.[1] ?? 1), 0),
    );
  expect(widths).toEqual([3, 3, 3, 3, 3]);
  expect(body.match(/<w:vMerge w:val="restart"\/>/g)).toHaveLength(2);
  expect(body.match(/<w:vMerge\/>/g)).toHaveLength(3);
});
