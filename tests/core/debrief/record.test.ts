import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { blockHtml } from '@/lib/core/debrief/html/html-blocks';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { renderQuickDebrief } from '@/lib/core/debrief/quick-debrief';
import { makeRecord, readRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { sampleDerived } from '../../support/sample-derived';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const IMPRINT = {
  number: 7,
  revision: 2,
  title: 'Arrival debrief',
  publishedAtIso: '2016-03-10T08:00:00.000Z',
  publishedBy: 'Local reviewer',
  previousSha256: 'f6'.repeat(32),
};

function seal(doc: DocNode, title = IMPRINT.title): SealedRecord {
  const resolved = resolveDocument(doc, sampleMaterial, BUILT_IN_BLOCKS);
  return sealRecord(makeRecord(resolved, sampleMaterial, { ...IMPRINT, title }));
}

const sealed = seal(draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds()));
const html = renderHtml(sealed, []);

describe('a record', () => {
  test('has the SHA-256 of its canonical bytes, and reads back as what it was', () => {
    expect(sealed.sha256).toBe(createHash('sha256').update(sealed.json, 'utf8').digest('hex'));
    expect(readRecord(sealed.json, sealed.sha256)).toEqual(JSON.parse(sealed.json));
    expect(sealRecord(JSON.parse(sealed.json)).sha256).toBe(sealed.sha256);
  });

  test('is not read when a byte of it changed', () => {
    expect(readRecord(sealed.json.replace('0.0741', '0.0742'), sealed.sha256)).toBeNull();
    expect(
      readRecord(
        '{"schema":"other"}',
        createHash('sha256').update('{"schema":"other"}').digest('hex'),
      ),
    ).toBeNull();
  });

  test('names engine, inputs, plan and rule versions, sources and the revision before', () => {
    expect(sealed.record).toMatchObject({
      engine: sampleReconstruction.engine,
      inputsSha256: sampleReconstruction.inputsSha256,
      plan: { title: 'Straight-in arrival', number: 2 },
      ruleSet: { number: 1 },
      previousSha256: IMPRINT.previousSha256,
      approvals: [],
    });
    expect(sealed.record.sources.map((source) => source.file)).toEqual(
      sampleReconstruction.sources.map((source) => source.file),
    );
  });
});

test('a record whose UTC the leap-second table cannot vouch for says so, in draft and page too', () => {
  const session = { ...sampleReconstruction.session, zeroTaiNs: '1900000000000000000' };
  const material = makeMaterial({
    ...sampleMaterial,
    reconstruction: { ...sampleReconstruction, session },
  });
  const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
  expect(JSON.stringify(doc)).toContain('UTC is not certain: 2030-03-17 lies beyond');
  const record = makeRecord({ blocks: [], evidence: [], sources: [] }, material, IMPRINT);
  expect(renderHtml(sealRecord(record), [])).toMatch(/UTC\. UTC is not certain: 2030-03-17/);
  expect(sealed.json).not.toContain('utcCaution');
});

describe('the exported page', () => {
  test('is the same text for the same record', () => {
    expect(renderHtml(sealRecord(JSON.parse(sealed.json)), [])).toBe(html);
  });

  test('carries the record so that its bytes can be hashed again', () => {
    const base64 = /id="record">([^<]+)</.exec(html)?.[1] ?? '';
    const bytes = Buffer.from(base64, 'base64');
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(sealed.sha256);
    expect(html).toContain(`<dd id="sha256" class="mono">${sealed.sha256}</dd>`);
  });

  test('allows its one style sheet and its two scripts by hash and loads nothing', () => {
    const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
    const scripts = [...html.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(
      (match) => match[1] ?? '',
    );
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1] ?? '';
    expect(scripts).toHaveLength(2);
    expect(policy).toContain(`style-src ${hash(style)}`);
    expect(policy).toContain(`script-src ${scripts.map((each) => hash(each ?? '')).join(' ')};`);
    expect(policy).not.toContain('unsafe');
    expect(html).not.toMatch(/\sstyle=|<link|src="|@import|url\((?!#|data:)|\son[a-z]+=/);
  });

  test('shows number, revision, hash, caution, the invented banner and the evidence of each number', () => {
    expect(html).toContain('Debrief 7, revision 2');
    expect(html).toContain('Invented demonstration');
    expect(html).toContain('Not for real-time decisions');
    expect(html.match(/<details class="number/g)?.length).toBeGreaterThan(80);
  });
});

describe('hostile content comes out as text', () => {
  const hostile = [
    '</script><script>alert(1)</script>',
    '<img src=x onerror=alert(1)>',
    '\u202egnp.exe\u202c',
    'a\u0000b\u0007c\ud800d',
    '#read("/etc/passwd") $x$ {{7*7}}',
    `${'long '.repeat(200_000)}end`,
  ];
  const doc: DocNode = {
    type: 'doc',
    content: [
      {
        type: 'heading',
        attrs: { id: 'block-0', level: 1 },
        content: [{ type: 'text', text: hostile[0] ?? '' }],
      },
      ...hostile.map((text, index) => ({
        type: index % 2 === 0 ? 'paragraph' : 'codeBlock',
        attrs: { id: `block-${index + 1}` },
        content: [
          {
            type: 'text',
            text,
            marks: index === 0 ? [{ type: 'link', attrs: { href: 'javascript:alert(1)' } }] : [],
          },
        ],
      })),
    ],
  };
  const page = renderHtml(seal(doc, '"><svg onload=alert(1)>'), []);

  test('no element, attribute or address is made from it', () => {
    expect(page.match(/<script/g)).toHaveLength(3);
    expect(page).not.toMatch(/<img|<svg|javascript:/);
    expect(page).toContain('&lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt;');
    expect(page).toContain('&quot;&gt;&lt;svg onload=alert(1)&gt;');
  });

  test('controls, lone surrogates and marks that turn text around are shown, not obeyed', () => {
    expect(page).toContain('a\ufffdb\ufffdc\ufffdd');
    expect(page).toContain('[U+202E]gnp.exe[U+202C]');
    expect(page).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
  });

  test('ends of line of any system are ends of line, and empty lines part paragraphs', () => {
    const seen = 'First line\r\nsecond line\r\n\r\nAnother paragraph\rwith a line <b>';
    const [finding] = sampleMaterial.findings;
    if (finding === undefined) throw new Error('the sample has a finding');
    const material = { ...sampleMaterial, findings: [{ ...finding, seen }] };
    const card = { type: 'findingCard', attrs: { id: 'block-1', findingId: finding.id } };
    const document = resolveDocument({ type: 'doc', content: [card] }, material, BUILT_IN_BLOCKS);
    const [block] = document.blocks;
    const words = block === undefined ? '' : blockHtml(block, document);
    expect(words).toContain('<strong>Seen.</strong> First line\nsecond line</p>');
    expect(words).toContain('<p class="words">Another paragraph\nwith a line &lt;b&gt;</p>');
    expect(words).not.toMatch(/\ufffd|\r/);
  });

  test('a paragraph of a megabyte is whole', () => {
    expect(page).toContain('long end');
    expect(page.length).toBeGreaterThan(1_000_000);
  });
});

test('the page of the command line names the session and says that it is not published', () => {
  const stateAt = (): never => {
    throw new Error('the sample has no poll');
  };
  const quick = renderQuickDebrief(sampleReconstruction, sampleDerived, { stateAt });
  const same = structuredClone(sampleReconstruction);
  expect(quick).toBe(renderQuickDebrief(same, sampleDerived, { stateAt }));
  expect(quick).toContain(`<h1>${sampleReconstruction.session.title}</h1>`);
  expect(quick).toContain('not published');
  expect(quick.length).toBeGreaterThan(3000);
});
