import { expect, test } from 'vitest';
import { type ReadParts, recordInDocx, shownDocx } from '@/lib/core/debrief/docx/read-docx';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { verifyDocx } from '@/lib/core/debrief/docx/verify-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { verifyMarkdown } from '@/lib/core/debrief/markdown/verify-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { citedNumbers } from '@/lib/core/debrief/package/recompute-record';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { shownDifferences } from '@/lib/core/debrief/shown-lines';
import { countingIds, sampleMaterial } from '../../support/sample-material';

/** The parts of a draft that this is about, its figure cut to a few seconds. */
const content = (draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds()).content ?? [])
  .filter(({ type }, at) => ['traceFigure', 'contactTable', 'heading'].includes(type) || at < 4)
  .map((block) =>
    block.type === 'traceFigure'
      ? { ...block, attrs: { ...block.attrs, fromS: 0, toS: 3 } }
      : block,
  );
const sealed = sealRecord(
  makeRecord(
    resolveDocument({ type: 'doc', content }, sampleMaterial, BUILT_IN_BLOCKS),
    sampleMaterial,
    {
      number: 7,
      revision: 2,
      title: 'Arrival debrief',
      publishedAtIso: '2016-03-10T08:00:00.000Z',
      publishedBy: 'Local reviewer',
      previousSha256: null,
    },
  ),
);
const { engine } = sealed.record;
/** Messages have plain blanks where the text has ones that do not break. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const encoder = new TextEncoder();
const parts: ReadParts = new Map(
  [...renderDocx(sealed)].map(([name, part]) => [
    name,
    typeof part === 'string' ? encoder.encode(part) : part,
  ]),
);

/** The file with one part changed; what is changed must be there. */
function changed(name: string, from: string, to: string): ReadParts {
  const text = new TextDecoder().decode(parts.get(name));
  expect(text).toContain(from);
  return new Map([...parts, [name, encoder.encode(text.replace(from, to))]]);
}
const BODY = 'word/document.xml';
const docxLines = (given: ReadParts, version = engine) =>
  verifyDocx(given, version, { published: null, record: null }).lines.map(({ text }) => text);

test('a DOCX as it was written agrees with the record that it carries', () => {
  expect(recordInDocx(parts)).toBe(sealed.json);
  const verified = verifyDocx(parts, engine, { published: sealed.sha256, record: null });
  expect(verified.lines).toEqual([]);
  expect(verified.sha256).toBe(sealed.sha256);
  expect(verified.numbers).toBe(citedNumbers(sealed.record.blocks).length);
});

test('a digit changed in any number of a DOCX is named with the number of the record', () => {
  const numbers = [...new Set(citedNumbers(sealed.record.blocks).map(({ run }) => run.text))];
  const { lines } = shownDocx(parts);
  let tried = 0;
  for (const number of numbers) {
    const wrong = number.replace(/\d(?=\D*$)/, (digit) => String((Number(digit) + 1) % 10));
    const at = lines.findIndex(({ text }) => text.includes(number));
    if (wrong === number || at < 0) continue;
    const text = (lines[at]?.text ?? '').replace(number, wrong);
    const shown = lines.map((line, index) => (index === at ? { ...line, text } : line));
    const said = shownDifferences(shown, lines, numbers).map((each) => each.text);
    expect(said).toEqual([
      plain(`${lines[at]?.where}: shows "${wrong}", the record has "${number}"`),
    ]);
    tried += 1;
  }
  expect(tried).toBeGreaterThan(10);
  const [number = ''] = numbers.filter((text) => text.startsWith('0.0741'));
  const wrong = number.replace('41', '51');
  const given = changed(BODY, `>${number}</w:t>`, `>${wrong}</w:t>`);
  const named = plain(`under "2 Summary": shows "${wrong}", the record has "${number}"`);
  for (const version of [engine, 'another']) expect(docxLines(given, version)[0]).toBe(named);
});

test('words, pictures, addresses, style and margins of a DOCX are held against the record', () => {
  expect(docxLines(changed(BODY, ' was broken with', ' was kept with'))[0]).toMatch(
    /^under "2 Summary": says "[^"]*kept/,
  );
  expect(docxLines(changed(BODY, '>Arrival debrief<', '>Departure debrief<'))[0]).toContain(
    'Departure',
  );
  expect(docxLines(changed('word/styles.xml', '<w:b/>', '<w:vanish/>'))[0]).toContain(
    'word/styles.xml',
  );
  expect(docxLines(changed('word/footer.xml', 'SHA-256', 'SHA-512'))[0]).toMatch(/^in the margin/);
  expect(
    docxLines(changed(BODY, '</w:body>', '<w:p><w:r><w:t>x</w:t></w:r></w:p></w:body>')),
  ).toEqual([
    expect.stringMatching(/^it shows \d+ lines of text, its record makes \d+$/),
    expect.stringMatching(/"x" is not in the record$/),
  ]);
  const media = [...parts.keys()].find((name) => name.endsWith('.emf')) ?? '';
  const other = Uint8Array.from(parts.get(media) ?? [], (byte, at) =>
    at === 500 ? byte ^ 1 : byte,
  );
  expect(docxLines(new Map([...parts, [media, other]]))).toEqual([
    'picture 1 is not that of the points in the record',
  ]);
  expect(docxLines(changed(BODY, '<w:body>', '<w:body')).join()).toMatch(/not well-formed/);
});

test.each([
  ['in a field of pages', '<w:fldSimple w:instr=" PAGE "><w:r><w:t>not </w:t></w:r></w:fldSimple>'],
  ['by its number', '<w:r><w:sym w:font="Arial" w:char="0078"/></w:r>'],
])('a word added to a DOCX is found by another version too: %s', (_how, word) => {
  const added = changed(BODY, '</w:body>', `<w:p>${word}</w:p></w:body>`);
  expect(docxLines(added, 'another').join()).toMatch(/"(not|x)" is not in the record/);
});

test('a DOCX saved again by another program is read by its words, pages left out', () => {
  const pages = changed('word/footer.xml', ' PAGE ">', ' PAGE "><!-- 3 -->');
  expect(docxLines(pages)).toEqual([
    expect.stringMatching(/^what it shows agrees, and how it is set/),
  ]);
  const without = new Map([...parts].filter(([name]) => !name.startsWith('customXml/')));
  const alone = { published: null, record: null };
  expect(verifyDocx(without, engine, alone).unusable).toMatch(/carries no record.*--record/);
});

test('a DOCX that lost its record is compared with one given beside it, word by word', () => {
  const given = { published: sealed.sha256, record: sealed.json };
  const saved = (from: string, to: string): ReadParts =>
    new Map(
      [...changed(BODY, from, to)].filter(
        ([name]) => !/^(customXml|word\/(media|foot))/.test(name),
      ),
    );
  const said = (file: ReadParts, beside = given) =>
    verifyDocx(file, engine, beside).lines.map(({ gravity, text }) => `${gravity}: ${text}`);
  const note = expect.stringMatching(/^note: words and numbers were compared/);
  expect(said(saved('<w:body>', '<w:body><!-- by another program -->'))).toEqual([note]);
  const [number = ''] = citedNumbers(sealed.record.blocks)
    .map(({ run }) => run.text)
    .filter((text) => text.startsWith('0.0741'));
  const wrong = number.replace('41', '51');
  const named = `differs: under "2 Summary": shows "${wrong}", the record has "${number}"`;
  expect(said(saved(`>${number}</w:t>`, `>${wrong}</w:t>`))).toEqual([plain(named), note]);
  const other = { ...given, record: sealed.json.replace('Arrival debrief', 'Arrival Debrief') };
  expect(said(parts, other)).toContain(
    'differs: the record inside the file is another than the one given',
  );
  expect(verifyDocx(parts, engine, { ...given, record: 'no record' }).record).toBeNull();
});

const files = renderMarkdown(sealed);
const markdownLines = (name: string, from: string, to: string, version = engine) => {
  const text = files.get(name) ?? '';
  expect(text).toContain(from);
  const given = new Map([...files, [name, text.replace(from, to)]]);
  return verifyMarkdown(given, version, null).lines.map(({ text: said }) => said);
};

test('Markdown agrees with the record beside it, and a digit, word or drawing changed is named', () => {
  const verified = verifyMarkdown(files, engine, sealed.sha256);
  expect([verified.lines, verified.sha256]).toEqual([[], sealed.sha256]);
  const [number = ''] = citedNumbers(sealed.record.blocks).flatMap(({ run }) =>
    run.text.startsWith('0.0741') ? [run.text] : [],
  );
  const wrong = number.replace('41', '51');
  for (const version of [engine, 'another'])
    expect(markdownLines('debrief.md', number, wrong, version)[0]).toBe(
      plain(`under "2 Summary": shows "${wrong}", the record has "${number}"`),
    );
  expect(markdownLines('debrief.md', ' was broken with', ' was kept with')[0]).toContain('kept');
  expect(markdownLines('figures/figure-1.svg', '<path', '<g/><path')).toEqual([
    'figures/figure-1.svg is not drawn from the points in the record',
  ]);
  const lacking = new Map([...files].filter(([name]) => !name.endsWith('.svg')));
  for (const version of [engine, 'another'])
    expect(verifyMarkdown(lacking, version, null).lines[0]?.text).toContain('is lacking');
  expect(verifyMarkdown(new Map(), engine, null).unusable).toContain('record.json');
});
