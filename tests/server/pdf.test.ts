import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { verifyPdf } from '@/lib/cli/verify-pdf';
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { glyphChecks } from '@/lib/core/debrief/pdf/glyph-checks';
import { PAPERS } from '@/lib/core/debrief/pdf/pdf-data';
import { quickLook } from '@/lib/core/debrief/quick-look/quick-look';
import {
  makeQuickRecord,
  makeRecord,
  type SealedRecord,
  sealRecord,
} from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { loadPdfFonts } from '@/lib/server/publish/pdf/pdf-fonts';
import { type RenderedPdf, renderPdfs } from '@/lib/server/publish/pdf/render-pdf';
import { crowdedMaterial } from '../support/crowded-material';
import { hostileQuestion } from '../support/hostile-question';
import { countingIds, sampleMaterial } from '../support/sample-material';

const root = mkdtempSync(path.join(tmpdir(), 'wakeline-pdf-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const MADE = { publishedAtIso: '2027-04-06T13:05:00.000Z', publishedBy: 'Somebody' };
const sha256 = (content: string | Buffer) => createHash('sha256').update(content).digest('hex');

function published(
  doc: DocNode,
  material: DebriefMaterial,
  title = 'Arrival',
  designation = 'Debrief 7',
): SealedRecord {
  const resolved = resolveDocument(doc, material, BUILT_IN_BLOCKS);
  const place = { number: 7, revision: 2, previousSha256: 'ab'.repeat(32) };
  const imprint = { ...MADE, ...place, title, designation };
  return sealRecord(makeRecord(resolved, material, imprint));
}

const asked = { ...sampleMaterial, crewQuestions: [hostileQuestion] };
const drafted = draftDebrief(asked, BUILT_IN_BLOCKS, countingIds());
/** One block of each kind that a reference can lead to. */
const referred = ['heading', 'traceFigure', 'contactTable', 'findingCard'].map((type) =>
  String(drafted.content?.find((node) => node.type === type)?.attrs?.id),
);
const refers = referred.map((target) => ({ type: 'blockReference', attrs: { target } }));
/** Bulleted and numbered by turns, four levels deep: each level has a mark of its own. */
function levels(depth: number): DocNode {
  const line = { type: 'paragraph', content: [{ type: 'text', text: `Level ${depth}` }] };
  const content = depth === 4 ? [line] : [line, levels(depth + 1)];
  const type = depth === 2 ? 'orderedList' : 'bulletList';
  return { type, attrs: { id: `level-${depth}` }, content: [{ type: 'listItem', content }] };
}
const draft: DocNode = {
  ...drafted,
  content: [
    ...(drafted.content ?? []),
    levels(1),
    { type: 'paragraph', attrs: { id: 'refers-1' }, content: refers },
  ],
};
const sealed = published(draft, asked);
let a4: RenderedPdf;
let letter: RenderedPdf;
beforeAll(async () => {
  const [first, second] = await renderPdfs(sealed, PAPERS);
  if (first === undefined || second === undefined) throw new Error('two sizes were asked for');
  [a4, letter] = [first, second];
  writeFileSync(path.join(root, 'a4.pdf'), a4.pdf);
  writeFileSync(path.join(root, 'letter.pdf'), letter.pdf);
});

/** What a tool of poppler or qpdf prints; they are installed by the continuous integration. */
function tool(name: string, ...args: readonly string[]): string {
  const run = spawnSync(name, [...args], { cwd: root, encoding: 'utf8', maxBuffer: 1 << 26 });
  return `${run.stdout ?? ''}${run.status === 0 ? '' : `ended with ${run.status}`}`;
}
const hasTools = ['pdfinfo', 'qpdf'].every(
  (name) => spawnSync(name, ['--version']).error === undefined,
);
if (process.env.CI !== undefined && !hasTools) throw new Error('poppler-utils and qpdf are needed');

/** The record attached is honest, one number shown is not. */
test.skipIf(!hasTools)(
  'a PDF that shows another number than its record is found, and it is named',
  async () => {
    const { engine } = sealed.record;
    expect(await verifyPdf(a4.pdf, engine, sealed.sha256)).toMatchObject({
      lines: [],
      sha256: sealed.sha256,
    });
    const shown = JSON.stringify(sealed.record.blocks);
    const number = /"kind":"number"[^}]*?"text":"(0\.0741[^"]*)"/.exec(shown)?.[1] ?? '';
    const wrong = number.replace('41', '51');
    const blocks = JSON.parse(shown.replace(`"text":"${number}"`, `"text":"${wrong}"`));
    const [lie] = await renderPdfs({ ...sealed, record: { ...sealed.record, blocks } }, [
      'us-letter',
    ]);
    const { lines } = await verifyPdf(lie?.pdf ?? Buffer.alloc(0), engine, null);
    expect(lines.map(({ text }) => text)).toEqual([
      expect.stringContaining(
        `shows "${wrong}", the record has "${number}"`.replaceAll('\u00a0', ' '),
      ),
    ]);
    expect((await verifyPdf(Buffer.from('%PDF-1.7'), engine, null)).unusable).toMatch(/no record/);
  },
);

describe.skipIf(!hasTools)('by other programs the PDF', () => {
  test('is well formed, tagged, of the size asked for', () => {
    expect(tool('qpdf', '--check', 'a4.pdf')).toMatch(/No syntax or stream encoding errors/);
    const info = tool('pdfinfo', 'a4.pdf');
    expect(info).toMatch(/Tagged:\s+yes/);
    expect(info).toMatch(/JavaScript:\s+no/);
    // ISO 216: A4 is 210 mm by 297 mm; 1 pt is 1/72 inch.
    expect(info).toMatch(/595\.2\d+ x 841\.8\d+ pts \(A4\)/);
    expect(tool('pdfinfo', 'letter.pdf')).toMatch(/612 x 792 pts \(letter\)/);
  });

  // ISO 32000-2:2020, 12.3.2 (destinations) and 12.5.6.5 (link annotations).
  test('leads from a reference to the block that it names', () => {
    const objects = tool('qpdf', '--json', '--json-key=qpdf', 'a4.pdf');
    const links = [...objects.matchAll(/\{[^{}]*"\/Subtype": "\/Link"[^{}]*\}/g)].map(String);
    // An entry of the contents is described by its heading, in quotation marks.
    const own = links.filter((link) => !link.includes('\u201c') && link.includes('"/Dest": '));
    expect(own).toHaveLength(referred.length);
    expect(tool('pdfinfo', '-dests', 'a4.pdf')).toContain(`"${referred[0]}"`);
  });

  test('has a structure of headings, tables, figures and contents', () => {
    const structure = tool('pdfinfo', '-struct', 'a4.pdf');
    for (const name of ['H1', 'Table', 'THead', 'TH', 'TD', 'Figure', 'TOC', 'Caption', 'L']) {
      expect(structure).toMatch(new RegExp(`^\\s*${name}\\b`, 'm'));
    }
  });

  test('embeds every font, and says that it is PDF/A-3a', () => {
    const fonts = tool('pdffonts', 'a4.pdf').trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThan(1);
    for (const line of fonts) expect(line).toMatch(/IBMPlex.*\byes\s+yes\s+yes\b/);
    // ISO 19005-3:2012, 6.6.4: part and conformance stand in the metadata.
    const meta = tool('pdfinfo', '-meta', 'a4.pdf');
    expect(meta).toMatch(/pdfaid:part[>=" ]+3/);
    expect(meta).toMatch(/pdfaid:conformance[>=" ]+A/);
  });

  test('carries the record byte for byte', () => {
    tool('pdfdetach', '-savefile', 'record.json', '-o', 'record.json', 'a4.pdf');
    expect(sha256(readFileSync(path.join(root, 'record.json')))).toBe(sealed.sha256);
  });

  test('shows questions to the crew word for word: nothing of them is set as markup', () => {
    const text = tool('pdftotext', '-raw', 'a4.pdf', '-').replace(/[\s\u200b]+/g, ''); // long words may break
    const { question, answers } = hostileQuestion;
    const words = [question, ...answers.map((answer) => `${answer.by},`)];
    for (const each of [...words, ...answers.map((answer) => answer.text)]) {
      expect(text).toContain(each.replace(/\s+/g, ''));
    }
  });

  test('shows every number of the record, headings with the pages they stand on', () => {
    const text = tool('pdftotext', '-raw', 'a4.pdf', '-').replace(/\s+/g, '');
    const shown = JSON.stringify(sealed.record.blocks).matchAll(
      /"kind":"number",[^}]*"text":"([^"]+)"/g,
    );
    const numbers = [...shown].map(([, number = '']) => number.replace(/\s+/g, ''));
    expect(numbers.length).toBeGreaterThan(30);
    for (const number of numbers) expect(text).toContain(number);
    const pages = Array.from({ length: a4.pages }, (_, index) => {
      const page = String(index + 1);
      return tool('pdftotext', '-layout', '-f', page, '-l', page, 'a4.pdf', '-');
    });
    const entry = /^\s*5\s+Rules and margins\D+(\d+)/m.exec(pages[0] ?? '');
    expect(pages[Number(entry?.[1]) - 1]).toMatch(/^\s*5\s+Rules and margins\s*$/m);
  });

  test('shows hostile words as words', async () => {
    const words =
      '#read("/etc/passwd") $x$ *b* _i_ <script>alert(1)</script> @label \\u{41} \u202eabc';
    const doc: DocNode = {
      type: 'doc',
      content: [
        {
          type: 'heading',
          attrs: { id: 'head', level: 1 },
          content: [{ type: 'text', text: words }],
        },
        { type: 'paragraph', attrs: { id: 'line' }, content: [{ type: 'text', text: words }] },
        { type: 'codeBlock', attrs: { id: 'code' }, content: [{ type: 'text', text: words }] },
      ],
    };
    const [hostile] = await renderPdfs(published(doc, sampleMaterial, words), ['a4']);
    writeFileSync(path.join(root, 'hostile.pdf'), hostile?.pdf ?? '');
    const text = tool('pdftotext', '-raw', 'hostile.pdf', '-').replace(/[\s\u200b]+/g, '');
    expect(text).toContain(
      '#read("/etc/passwd")$x$*b*_i_<script>alert(1)</script>@label\\u{41}[U+202E]abc',
    );
  });
});

describe('the PDF', () => {
  test('is the same to the byte for the same record', async () => {
    const [again] = await renderPdfs(sealed, ['a4']);
    expect(sha256(again?.pdf ?? Buffer.alloc(0))).toBe(sha256(a4.pdf));
  });

  test('of a quick look has two pages at most, however much there is to say', async () => {
    for (const material of [sampleMaterial, crowdedMaterial]) {
      const record = sealRecord(makeQuickRecord(quickLook(material), material, MADE));
      const pages = (await renderPdfs(record, PAPERS)).map((each) => each.pages);
      for (const count of pages) expect(count).toBeLessThanOrEqual(2);
    }
  });

  test('writes what no font has as its code, which the list before publishing says', async () => {
    const { coverage } = await loadPdfFonts();
    const text = 'A rocket \u{1f680} and \u4e2d';
    const doc: DocNode = {
      type: 'doc',
      content: [{ type: 'paragraph', attrs: { id: 'line' }, content: [{ type: 'text', text }] }],
    };
    const material = makeMaterial(sampleMaterial);
    const checks = glyphChecks(doc, material, { registry: BUILT_IN_BLOCKS, coverage });
    expect(checks).toEqual([
      {
        gravity: 'look',
        blockId: 'line',
        message: expect.stringMatching(/lack \u{1f680} \(U\+1F680\), \u4e2d \(U\+4E2D\)/u),
      },
    ]);
    expect(glyphChecks(draft, material, { registry: BUILT_IN_BLOCKS, coverage })).toEqual([]);
    const [pdf] = await renderPdfs(published(doc, material, text, `${text} 7`), ['a4']);
    expect(pdf?.pages).toBeGreaterThan(0);
  });
});
