import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { countedFigures } from '@/lib/core/debrief/counted-figures';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { blockHtml } from '@/lib/core/debrief/html/html-blocks';
import { runsHtml } from '@/lib/core/debrief/html/html-runs';
import { keepPunctuation } from '@/lib/core/debrief/kept-punctuation';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { defineBlock, makeBlockRegistry } from '@/lib/core/debrief/nodes/block';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { textRun } from '@/lib/core/debrief/resolve-context';
import type { NumberRun } from '@/lib/core/debrief/resolved';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const doc = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
const document = resolveDocument(doc, sampleMaterial, BUILT_IN_BLOCKS);

function numbersIn(value: unknown): readonly NumberRun[] {
  if (Array.isArray(value)) return value.flatMap(numbersIn);
  if (typeof value !== 'object' || value === null) return [];
  if ('kind' in value && value.kind === 'number' && 'evidence' in value)
    return [value as NumberRun];
  return Object.values(value).flatMap(numbersIn);
}

describe('resolving', () => {
  test('every number carries its double and its evidence, which names whole source hashes', () => {
    const numbers = numbersIn(document.blocks);
    expect(numbers.length).toBeGreaterThan(80);
    for (const number of numbers) {
      const entry = document.evidence[number.evidence];
      expect(entry?.method.length).toBeGreaterThan(5);
      for (const index of entry?.sources ?? []) {
        expect(document.sources[index]?.sha256).toMatch(/^[0-9a-f]{64}$/);
      }
    }
    const closing = numbers.find((number) => number.key === 'contact.closing_rate_mps');
    expect(closing).toMatchObject({
      value: 0.0741,
      unit: 'm/s',
      random95: 0.0009,
      systematic95: null,
    });
  });

  test('evidence that many numbers share is stated once', () => {
    const texts = document.evidence.map((entry) => JSON.stringify(entry));
    expect(new Set(texts).size).toBe(texts.length);
  });

  test('headings, figures and tables are numbered in order', () => {
    const headings = document.blocks.flatMap((block) =>
      block.kind === 'heading' ? [block.number] : [],
    );
    const tables = document.blocks.flatMap((block) =>
      block.kind === 'table' ? [block.number] : [],
    );
    expect(headings).toEqual(headings.map((_, index) => String(index + 1)));
    expect(tables).toEqual(tables.map((_, index) => index + 1));
  });

  test('a value in radians keeps its double in radians and reads in degrees', () => {
    const roll = numbersIn(document.blocks).find(
      (each) => each.key === 'contact.attitude_error_roll_deg',
    );
    expect(roll?.unit).toBe('rad');
    expect(roll?.text).toBe('0.110\u00a0\u00b1\u00a00.010\u00a0deg');
  });

  test('figures hold at most two points a bucket and keep the highest value of the stretch', () => {
    const figure = document.blocks.find((block) => block.kind === 'figure');
    if (figure?.kind !== 'figure') throw new Error('the draft has a figure');
    for (const plot of figure.plots) {
      for (const series of plot.series) expect(series.x.length).toBeLessThanOrEqual(1210);
    }
    const closing = figure.plots[1]?.series[0];
    expect(Math.max(...(closing?.y ?? []).filter((value) => value !== null))).toBe(0.41);
  });

  test('a block that points at nothing becomes one sentence that says so', () => {
    const broken = {
      type: 'doc',
      content: [
        { type: 'findingCard', attrs: { id: 'block-1', findingId: 'gone' } },
        {
          type: 'traceFigure',
          attrs: { id: 'block-2', channels: ['no-such'], fromS: 0, toS: 9, caption: '', alt: '' },
        },
        { type: 'something', attrs: { id: 'block-3' } },
      ],
    };
    const messages = resolveDocument(broken, sampleMaterial, BUILT_IN_BLOCKS).blocks.map((block) =>
      block.kind === 'missing' ? block.message : '',
    );
    expect(messages).toEqual([
      'Finding: it is no longer there.',
      'Trace figure: no column no-such in this session.',
      'A block of the kind "something", which is not known here.',
    ]);
  });
});

test('a block added from outside is drafted, accepted by the schema, resolved, numbered and exported', () => {
  const toy = defineBlock(
    { words: z.string().max(20) },
    {
      name: 'toyBlock',
      label: 'Toy',
      choices: () => [{ label: 'Toy', attributes: { words: 'hello' } }],
      draft: (section) => (section === 'caution' ? [{ words: 'drafted' }] : []),
      resolve: ({ id, words }, { material }) => [
        {
          kind: 'table',
          id,
          number: 0,
          caption: `Toy: ${words}`,
          columns: [{ label: 'Steps', align: 'end' }],
          rows: [
            [
              {
                runs: [textRun(String(material.reconstruction.steps.length))],
                header: false,
                colspan: 1,
                rowspan: 1,
                tone: 'plain',
              },
            ],
          ],
          note: '',
        },
      ],
    },
  );
  const registry = makeBlockRegistry([...BUILT_IN_BLOCKS.values(), toy]);
  const schema = documentSchema(registry);
  const drafted = draftDebrief(sampleMaterial, registry, countingIds());
  const loaded = loadDocument({ schema: 1, body: drafted }, schema);
  expect(loaded.issues).toEqual([]);
  const body = {
    type: 'doc',
    content: [{ type: 'toyBlock', attrs: { id: 'block-1', words: 'x'.repeat(21) } }],
  };
  expect(loadDocument({ schema: 1, body }, schema).issues[0]?.message).toMatch(/toyBlock\.words/);
  const resolved = resolveDocument(loaded.value ?? drafted, sampleMaterial, registry);
  const last = resolved.blocks.at(-1);
  expect(last).toMatchObject({ kind: 'table', caption: 'Toy: drafted', number: 9 });
  expect(last === undefined ? '' : blockHtml(last, resolved)).toContain(
    '<strong>Table 9.</strong> Toy: drafted',
  );
  expect(() => makeBlockRegistry([toy, toy])).toThrow(/defined twice/);
});

test('counted figures agree with the rows they count', () => {
  const figures = countedFigures(sampleReconstruction);
  expect(figures.get('counts.rules_met')?.value).toBe(2);
  expect(figures.get('rules[closing-rate].exceedances')?.value).toBe(2);
  expect(figures.get('rules[closing-rate].beyond_s')?.value).toBeCloseTo(6.7, 12);
  expect(figures.get('rules[closing-rate].beyond_s')?.uncertainty?.random).toBeCloseTo(0.594, 3);
  expect(figures.get('approach.planned_s')?.value).toBe(650);
});

test('punctuation after a number stays on its line, and no character is lost', () => {
  const value = document.blocks
    .flatMap((block) => (block.kind === 'paragraph' ? block.runs : []))
    .find((run) => run.kind === 'number');
  if (value === undefined) throw new Error('the draft has a number');
  const runs = [textRun('At '), value, textRun(', two times'), value, textRun('.')];
  const kept = keepPunctuation(runs);
  expect(kept.map(({ run, after }) => `${run.kind}${after}`)).toEqual([
    'text',
    'number,',
    'text',
    'number.',
  ]);
  expect(runsHtml(runs, document)).toMatch(/<\/details>,<\/span> two times<span class="keep">/);
  const linked = { ...textRun(', here'), href: 'https://example.org' };
  expect(keepPunctuation([value, linked]).map(({ after }) => after)).toEqual(['', '']);
});
