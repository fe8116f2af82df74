import { describe, expect, test } from 'vitest';
import { runsText } from '@/lib/core/debrief/html/html-runs';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { verifyPage } from '@/lib/core/debrief/html/verify-page';
import { quickLook } from '@/lib/core/debrief/quick-look/quick-look';
import { nearestWords } from '@/lib/core/debrief/quick-look/quick-words';
import { makeQuickRecord, recordLabel, sealRecord } from '@/lib/core/debrief/record';
import type { ResolvedDocument, TableBlock } from '@/lib/core/debrief/resolved';
import { crowdedMaterial } from '../../support/crowded-material';
import { sampleMaterial } from '../../support/sample-material';

const ASKED = { publishedAtIso: '2027-04-06T18:00:00.000Z', publishedBy: 'Somebody' };

const headings = ({ blocks }: ResolvedDocument) =>
  blocks.flatMap((block) => (block.kind === 'heading' ? [runsText(block.runs)] : []));
const tables = ({ blocks }: ResolvedDocument) =>
  blocks.filter((block): block is TableBlock => block.kind === 'table');

describe('the quick look', () => {
  test('has its eight parts in their order, with much in the session or little', () => {
    const parts = [
      'Contact',
      'Capture',
      'Rules in question',
      'Beyond a limit',
      'The crew\u2019s words',
      'Sequence as flown',
      'Navigation',
      'Data awaited, and not known',
    ];
    expect(headings(quickLook(sampleMaterial))).toEqual(parts);
    expect(headings(quickLook(crowdedMaterial))).toEqual(parts);
  });

  test('names the rules that are in question and no other, broken ones first', () => {
    const rules = tables(quickLook(sampleMaterial)).find(({ id }) => id === 'rules-table');
    const verdicts = rules?.rows.map(([, verdict]) => runsText(verdict?.runs ?? []));
    expect(verdicts).toEqual(['broken', 'undecided', 'not evaluated']);
  });

  test('says how much it left out where there is more than it has room for', () => {
    const notes = tables(quickLook(crowdedMaterial)).map(({ id, rows, note }) => [
      id,
      rows.length,
      note,
    ]);
    expect(notes).toContainEqual(['rules-table', 8, '8 of 20 are shown; all are in the session.']);
    expect(notes).toContainEqual([
      'sequence-table',
      14,
      '14 of 60 are shown; all are in the session.',
    ]);
  });

  test('quotes the spoken lines nearest to contact and to what is in question', () => {
    const { contact } = sampleMaterial.reconstruction;
    const { lines } = nearestWords(
      { ...sampleMaterial.reconstruction, exceedances: [], rules: [] },
      1,
    );
    const spoken = sampleMaterial.reconstruction.events.filter(
      ({ source }) => source === 'loop.vtt',
    );
    const away = spoken.map(({ timeS }) => Math.abs(timeS - (contact?.timeS.value ?? 0)));
    expect(lines.map(({ timeS }) => Math.abs(timeS - (contact?.timeS.value ?? 0)))).toEqual([
      Math.min(...away),
    ]);
  });

  test('is marked preliminary and can be checked like a published page', () => {
    const record = makeQuickRecord(quickLook(sampleMaterial), sampleMaterial, ASKED);
    expect(recordLabel(record)).toBe('Quick look, preliminary');
    expect(record.banner).toMatch(/^Preliminary\..*Invented/);
    const sealed = sealRecord(record);
    const page = verifyPage(renderHtml(sealed, []), record.engine, sealed.sha256);
    expect(page.lines).toEqual([]);
    expect(page.numbers).toBeGreaterThan(10);
  });
});
