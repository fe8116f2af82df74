import { expect, test } from 'vitest';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { openContext } from '@/lib/core/debrief/resolve';
import type { TableBlock } from '@/lib/core/debrief/resolved';
import { sampleMaterial } from '../../support/sample-material';

function resolved(
  name: string,
  attrs: Readonly<Record<string, unknown>>,
  material = sampleMaterial,
) {
  const context = openContext(material);
  const [block] = BUILT_IN_BLOCKS.get(name)?.resolve({ id: 'block-1', ...attrs }, context) ?? [];
  return block;
}
const wordsOf = (block: ReturnType<typeof resolved>) =>
  (block?.kind === 'table' ? block.rows : []).map((row: TableBlock['rows'][number]) =>
    row.map(({ runs }) => runs.map((run) => (run.kind === 'break' ? '\n' : run.text)).join('')),
  );

test('an excerpt quotes every entry of all logs in its stretch, word for word', () => {
  const block = resolved('logExcerpt', { fromS: 200, toS: 345, caption: 'Rates' });
  expect(wordsOf(block)).toEqual([
    ['00:03:23.1', 'Flight', 'Your rate is high.', 'loop.vtt'],
    ['00:03:51.9', 'Crew', 'Range 70 meters.', 'loop.vtt'],
    ['00:05:45.0', 'Crew', 'Holding here.', 'loop.vtt'],
  ]);
  expect(resolved('logExcerpt', { fromS: 3, toS: 2, caption: '' })?.kind).toBe('missing');
  const { events } = sampleMaterial.reconstruction;
  const many = Array.from({ length: 250 }, () => events[0]).filter((each) => each !== undefined);
  const reconstruction = { ...sampleMaterial.reconstruction, events: many };
  const long = resolved(
    'logExcerpt',
    { fromS: 0, toS: 999, caption: '' },
    {
      ...sampleMaterial,
      reconstruction,
    },
  );
  expect(wordsOf(long)).toHaveLength(200);
  expect(long).toMatchObject({ note: expect.stringContaining('50 later entries are left out') });
});

test('excerpts are offered around contact and around findings that stand', () => {
  const labels = (BUILT_IN_BLOCKS.get('logExcerpt')?.choices(sampleMaterial) ?? []).map(
    ({ label }) => label,
  );
  expect(labels[0]).toBe('What was said and logged around contact');
  expect(labels.length).toBeGreaterThan(1);
});

test('the action list holds what findings that stand ask to be changed', () => {
  const asking = sampleMaterial.findings.filter(
    ({ state, change }) => state !== 'withdrawn' && change !== '',
  );
  const rows = wordsOf(resolved('actionTable', { caption: 'x' }));
  expect(asking.length).toBeGreaterThan(0);
  expect(rows.map(([number, change]) => [number, change])).toEqual(
    asking.map(({ number, change }) => [String(number), change]),
  );
  const findings = sampleMaterial.findings.map((finding) => ({
    ...finding,
    owner: 'Guidance lead',
    due: '2028-02-29',
  }));
  const given = { ...sampleMaterial, findings };
  expect(wordsOf(resolved('actionTable', { caption: 'x' }, given))[0]?.slice(2, 4)).toEqual([
    'Guidance lead',
    '2028-02-29',
  ]);
  expect(resolved('findingCard', { findingId: findings[0]?.id }, given)).toMatchObject({
    change: expect.stringMatching(/Action for Guidance lead, due 2028-02-29\.$/),
  });
});
