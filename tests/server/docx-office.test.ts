import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { SaxesParser } from 'saxes';
import { afterAll, expect, test } from 'vitest';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { writeZip } from '@/lib/server/publish/render-debrief';
import { hostileQuestion } from '../support/hostile-question';
import { countingIds, sampleMaterial } from '../support/sample-material';

const root = mkdtempSync(path.join(tmpdir(), 'wakeline-office-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const isThere = spawnSync('soffice', ['--version']).error === undefined;
if (process.env.CI !== undefined && !isThere) throw new Error('LibreOffice (soffice) is needed');

const asked = { ...sampleMaterial, crewQuestions: [hostileQuestion] };
const resolved = resolveDocument(
  draftDebrief(asked, BUILT_IN_BLOCKS, countingIds()),
  asked,
  BUILT_IN_BLOCKS,
);
const sealed = sealRecord(
  makeRecord(resolved, asked, {
    number: 7,
    revision: 1,
    previousSha256: null,
    title: 'Arrival <b>',
    publishedAtIso: '2027-04-06T13:05:00.000Z',
    publishedBy: 'Somebody',
  }),
);

type Opened = Readonly<{ count: (name: string) => number; words: string }>;

/** What the word processor made of the file, as its own flat XML. */
function opened(flat: string): Opened {
  const counts = new Map<string, number>();
  let words = '';
  const parser = new SaxesParser();
  parser.on('opentag', ({ name }) => counts.set(name, (counts.get(name) ?? 0) + 1));
  parser.on('text', (text) => {
    words += text;
  });
  parser.write(flat).close();
  return { count: (name) => counts.get(name) ?? 0, words: words.replace(/\s+/g, '') };
}

/**
 * Source: OASIS OpenDocument 1.3 part 3 (2021), 5.1.2 (text:h), 7.4.13 (text:sequence), 8.3
 * (text:table-of-content), 9.1.2 (table:table), 9.1.10 (table:table-header-rows), 10.4.2 (draw:frame).
 */
test.skipIf(!isThere)(
  'LibreOffice opens the DOCX with native tables, captions, headings, contents and figures (needs soffice)',
  async () => {
    await writeZip(renderDocx(sealed), path.join(root, 'debrief.docx'));
    const profile = `-env:UserInstallation=file://${path.join(root, 'profile')}`;
    const args = ['--headless', profile, '--convert-to', 'fodt', '--outdir', root];
    spawnSync('soffice', [...args, path.join(root, 'debrief.docx')], { timeout: 300_000 });
    const { count, words } = opened(readFileSync(path.join(root, 'debrief.fodt'), 'utf8'));
    const of = (kind: string) => resolved.blocks.filter((block) => block.kind === kind);
    const captioned = of('table').filter(
      (block) => block.kind === 'table' && block.number !== null,
    );
    expect(captioned.length).toBeGreaterThan(3);
    expect(count('table:table-header-rows')).toBe(of('table').length);
    expect(count('text:sequence')).toBe(captioned.length + of('figure').length);
    expect(count('draw:frame')).toBe(of('figure').length);
    expect(count('text:h')).toBeGreaterThan(of('heading').length);
    expect(count('text:table-of-content')).toBe(1);
    const numbers = JSON.stringify(sealed.record.blocks).matchAll(
      /"kind":"number".*?"text":"([^"]*)"/g,
    );
    const missing = [...numbers].filter(
      ([, text = '']) => !words.includes(text.replace(/\s+/g, '')),
    );
    expect(missing).toEqual([]);
    expect(words).toContain('Arrival<b>');
  },
  60_000,
);
