import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { readVerifyArguments } from '@/lib/cli/verify-arguments';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { verifyPage } from '@/lib/core/debrief/html/verify-page';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { verifyRecord } from '@/lib/core/debrief/verify-record';
import { countingIds, sampleMaterial } from '../../support/sample-material';

/** The parts of a draft that this is about, its figure cut to a few seconds. */
const WANTED = ['traceFigure', 'contactTable', 'heading'];
const drafted = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds()).content ?? [];
const content = drafted
  .filter(({ type }, index) => WANTED.includes(type) || index < 4)
  .map((block) =>
    block.type === 'traceFigure'
      ? { ...block, attrs: { ...block.attrs, fromS: 0, toS: 3 } }
      : block,
  );
const doc = { type: 'doc', content };
const sealed = sealRecord(
  makeRecord(resolveDocument(doc, sampleMaterial, BUILT_IN_BLOCKS), sampleMaterial, {
    number: 7,
    revision: 2,
    title: 'Arrival debrief',
    publishedAtIso: '2016-03-10T08:00:00.000Z',
    publishedBy: 'Local reviewer',
    previousSha256: null,
  }),
);
const face = {
  family: 'IBM Plex Mono',
  weight: 600,
  style: 'italic',
  woff2Base64: 'AAAA',
} as const;
const html = renderHtml(sealed, [face]);
const { engine } = sealed.record;

function differences(page: string, version = engine): readonly string[] {
  return verifyPage(page, version, null)
    .lines.filter(({ gravity }) => gravity === 'differs')
    .map(({ text }) => text);
}

test('a page as it was written agrees, with its hash and with the fonts it carries', () => {
  const verified = verifyPage(html, engine, sealed.sha256);
  expect(verified.lines).toEqual([]);
  expect(verified.sha256).toBe(createHash('sha256').update(sealed.json).digest('hex'));
  expect(verified.numbers).toBeGreaterThan(15);
});

test('each change of what is shown is found, and named with its section', () => {
  const number = '<summary>0.0741\u00a0<wbr>';
  const changes = [
    [number, number.replace('41', '51'), /^under "2 Summary": shows "0\.0751.*has "0\.0741/],
    [' was broken with', ' was kept with', /^under "2 Summary": says "[^"]*kept/],
    [
      '<dt>Value</dt><dd>0.0741 m/s',
      '<dt>Value</dt><dd>0.0751 m/s',
      /evidence of "0\.0741.*0\.0751/,
    ],
    [
      /class="plot-series" d="M[\d.]+/.exec(html)?.[0] ?? '',
      'class="plot-series" d="M1',
      /drawing/,
    ],
    [
      '<dt>Method</dt><dd>Drawn from the estimated',
      '<dt>Method</dt><dd>Drawn from the simulated',
      /the evidence of the figure says "[^"]*simulated/,
    ],
    ['<h1>Arrival', '<h1>Departure', /^at the head: says "[^"]*Departure/],
    ['Local reviewer', 'Another reviewer', /^at the head: says/],
    ['<style>', '<style>.table{display:none}', /markup, style or script/],
  ] as const;
  for (const [from, to, said] of changes) {
    expect(html).toContain(from);
    expect(differences(html.replace(from, to))[0]).toMatch(said);
  }
});

test('of another version numbers and words are compared, and what was not is said', () => {
  const other = html.replace('<style>', '<style>.x{color:red}');
  expect(differences(other, 'another')).toEqual([]);
  const note = verifyPage(other, 'another', null).lines.map(({ gravity }) => gravity);
  expect(note).toEqual(['note']);
  const changed = other.replace('<summary>0.0741', '<summary>0.0751');
  expect(differences(changed, 'another')[0]).toContain('shows "0.0751');
});

test('a record with another hash, out of its canonical form, or none at all is said to be so', () => {
  const record = (text: string, sha256?: string) =>
    verifyRecord(text, sha256 === undefined ? [] : [{ by: 'the list', sha256 }]);
  expect(record(sealed.json, sealed.sha256).lines).toEqual([]);
  expect(record(sealed.json, 'ab'.repeat(32)).lines[0]?.text).toMatch(/the list says abab/);
  const spaced = JSON.stringify(JSON.parse(sealed.json), null, 1);
  expect(record(spaced).lines[0]?.text).toContain('not in canonical form');
  expect(record('{"schema":"other"}').record).toBeNull();
  expect(record('not json').unusable).toMatch(/no debrief record/);
  expect(verifyPage('<p>a page</p>', engine, null).unusable).toMatch(/no exported debrief/);
  const flipped = html.replace(/(id="sha256" class="mono">)[0-9a-f]/, '$1z');
  expect(differences(flipped)[0]).toMatch(/the page says z/);
});

test('the command says everything that is wrong with its arguments', () => {
  expect(readVerifyArguments(['a.html', '--sha256', 'AB'.repeat(32)])).toEqual({
    kind: 'run',
    file: 'a.html',
    sha256: 'ab'.repeat(32),
    record: null,
  });
  expect(readVerifyArguments(['a.docx', '--record', 'a.json'])).toMatchObject({ record: 'a.json' });
  expect(readVerifyArguments(['--recompute', 'a.zip', '--record='])).toEqual({
    kind: 'wrong',
    problems: ['--record needs a record (.json)', '--record goes with a DOCX'],
  });
  for (const args of [['manifest.sha256'], ['--recompute', 'data.zip']]) {
    expect(readVerifyArguments([...args, '--sha256', 'ab'.repeat(32)])).toEqual({
      kind: 'wrong',
      problems: ['--sha256 goes with a page, a document or a record'],
    });
  }
  expect(readVerifyArguments(['--sha256=12', '--loud'])).toEqual({
    kind: 'wrong',
    problems: [
      'unknown option "--loud"',
      '--sha256 needs 64 hexadecimal digits, found "12"',
      'FILE is missing: a page, a document, a record or a manifest',
    ],
  });
});
