import { strFromU8 } from 'fflate';
import { expect, test } from 'vitest';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { verifyPage } from '@/lib/core/debrief/html/verify-page';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { recomputeRecord } from '@/lib/core/debrief/package/recompute-record';
import { pdfData } from '@/lib/core/debrief/pdf/pdf-data';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { CommandedPhase } from '@/lib/core/reconstruction/reconstruction';
import { sampleFigure } from '../../support/sample-figure';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const at = (value: number) =>
  sampleFigure(value, 's', 0.5, { from: value, to: value, method: 'Between two rows.' });
const commanded: readonly CommandedPhase[] = [
  {
    ...{ name: 'hold', motion: 'hold', startS: at(0), endS: 116, run: 0, delayS: null },
    why: 'in force when the data begin',
  },
  {
    ...{ name: 'approach', motion: 'closing', startS: at(116), endS: 500, run: 1 },
    delayS: at(2.4),
    why: null,
  },
  {
    ...{ name: 'retreat', motion: 'opening', startS: at(500), endS: 930, run: null, delayS: null },
    why: 'no such motion before the next mode',
  },
];
const reconstruction = { ...sampleReconstruction, commanded };
const material = makeMaterial({ ...sampleMaterial, reconstruction });
const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
const table = (doc.content ?? []).filter(({ type }) => type === 'commandedTable');
const sealed = sealRecord(
  makeRecord(
    resolveDocument({ type: 'doc', content: table }, material, BUILT_IN_BLOCKS),
    material,
    {
      ...{ number: 7, revision: 1, title: 'Arrival', publishedBy: 'Somebody' },
      ...{ publishedAtIso: '2016-03-10T08:00:00.000Z', previousSha256: null },
    },
  ),
);

test('a full draft has commanded phases beside the motion where there are some, in every format', () => {
  expect(table).toHaveLength(1);
  const [block] = sealed.record.blocks;
  const rows = (block?.kind === 'table' ? block.rows : []).map((cells) =>
    cells.map(({ runs }) => runs.map((run) => (run.kind === 'break' ? '' : run.text)).join('')),
  );
  expect(rows.map(([mode, asks, , run]) => [mode, asks, run])).toEqual([
    ['Hold', 'hold', expect.stringMatching(/; in force when the data begin$/)],
    ['Approach', 'closing', expect.stringMatching(/^[A-Z]/)],
    ['Retreat', 'opening', 'no such motion before the next mode'],
  ]);
  expect(rows.map((cells) => cells[5])).toEqual([
    '\u2013',
    '+2.4\u00a0\u00b1\u00a00.5\u00a0s',
    '\u2013',
  ]);
  const html = renderHtml(sealed, []);
  expect(verifyPage(html, sealed.record.engine, sealed.sha256).lines).toEqual([]);
  const word = renderDocx(sealed).get('word/document.xml');
  for (const text of [
    html,
    typeof word === 'string' ? word : strFromU8(word ?? new Uint8Array()),
    renderMarkdown(sealed).get('debrief.md') ?? '',
    JSON.stringify(pdfData(sealed, 'a4', (words) => words).doc),
  ]) {
    expect(text).toContain('no such motion before the next mode');
    expect(text).toContain('Phases as commanded, beside the motion');
  }
  const without = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
  expect((without.content ?? []).some(({ type }) => type === 'commandedTable')).toBe(false);
});

test('each of its numbers is computed again, and one that differs is named', () => {
  const again = { reconstruction, derived: material.derived, channels: [] };
  const same = recomputeRecord(sealed.record, again);
  expect([same.differing, same.notComputed]).toEqual([[], []]);
  expect(same.compared).toBe(3 + 2 + 1);
  const moved = commanded.map((each) =>
    each.delayS === null ? each : { ...each, delayS: at(2.5) },
  );
  const other = { ...again, reconstruction: { ...reconstruction, commanded: moved } };
  expect(recomputeRecord(sealed.record, other).differing.map(({ key }) => key)).toEqual([
    'commanded[1].delay_s',
  ]);
});
