import { webcrypto } from 'node:crypto';
import { expect, test } from 'vitest';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { PAGE_CHECK } from '@/lib/core/debrief/html/page-check';
import { elementsOf, type PageNode, readPage, textOf } from '@/lib/core/debrief/html/page-tree';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';

import { countingIds, sampleMaterial } from '../../support/sample-material';

/** The draft with its figure cut to a few seconds: a drawing is not what is looked at here. */
const content = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds()).content?.map(
  (block) =>
    block.type === 'traceFigure'
      ? { ...block, attrs: { ...block.attrs, fromS: 0, toS: 3 } }
      : block,
);
const resolved = resolveDocument(
  { type: 'doc', content: content ?? [] },
  sampleMaterial,
  BUILT_IN_BLOCKS,
);
const html = renderHtml(
  sealRecord(
    makeRecord(resolved, sampleMaterial, {
      number: 7,
      revision: 2,
      title: 'Arrival debrief',
      publishedAtIso: '2016-03-10T08:00:00.000Z',
      publishedBy: 'Local reviewer',
      previousSha256: null,
    }),
  ),
  [],
);

type Shown = {
  nodeType: number;
  localName: string;
  className: string;
  data: string;
  textContent: string;
  childNodes: readonly Shown[];
  children: readonly Shown[];
};

/** As much of a browser's elements as the script asks for. */
function asShown(node: PageNode): Shown {
  const childNodes = node.children.map(asShown);
  return {
    nodeType: node.tag === '' ? 3 : 1,
    localName: node.tag,
    className: node.attributes.class ?? '',
    data: node.text,
    textContent: textOf(node),
    childNodes,
    children: childNodes.filter((each) => each.nodeType === 1),
  };
}

/** What the page says of itself once its script has run. */
async function checked(page: string): Promise<string> {
  const out = { textContent: '', className: '' };
  const elements = elementsOf(readPage(page));
  const byId = (id: string) => {
    const found = elements.find((each) => each.attributes.id === id);
    return found === undefined ? null : asShown(found);
  };
  const main = elements.find((each) => each.tag === 'main');
  const document = {
    getElementById: (id: string) => (id === 'check' ? out : byId(id)),
    querySelector: () => (main === undefined ? null : asShown(main)),
  };
  const run = new Function('document', 'crypto', `return ${PAGE_CHECK}`);
  await run(document, webcrypto);
  return `${out.className}: ${out.textContent}`;
}

test('a page that was not touched says that its numbers and words are those of the record', async () => {
  const numbers = html.match(/<details class="number/g)?.length ?? 0;
  expect(numbers).toBeGreaterThan(80);
  const said = await checked(html);
  expect(said).toMatch(/^inside: Checked here/);
  expect(said).toContain(`the ${numbers} numbers`);
});

test('a number changed in the visible text alone is named, with what the record has', async () => {
  const shown = '0.0741\u00a0<wbr>\u00b1\u00a00.0009\u00a0m/s';
  expect(html).toContain(`<summary>${shown}</summary>`);
  const said = await checked(html.replace(shown, shown.replace('0.0741', '0.0451')));
  expect(said).toMatch(/^missing: This page does NOT show what its record says: under “Summary”/);
  expect(said).toContain('shows “0.0451\u00a0±\u00a00.0009\u00a0m/s” where the record has “0.0741');
});

test('a word, a caption, a title or a part taken out is found too', async () => {
  const changes = [
    [' was broken with a margin', ' was met with a margin'],
    ['Conditions at contact</caption>', 'Conditions at hard capture</caption>'],
    ['<h1>Arrival debrief</h1>', '<h1>Departure debrief</h1>'],
  ] as const;
  for (const [from, to] of changes) {
    expect(html).toContain(from);
    expect(await checked(html.replace(from, to))).toMatch(/^missing: This page does NOT show/);
  }
  const part = /<div class="p">[\s\S]*?<\/div>\n/.exec(html)?.[0] ?? '';
  expect(await checked(html.replace(part, ''))).toMatch(/it has \d+ parts, the record has \d+/);
});

test('a record that does not have its hash is said first', async () => {
  const said = await checked(html.replace(/(id="sha256" class="mono">)[0-9a-f]/, '$1_'));
  expect(said).toMatch(/^missing: The embedded record does NOT match/);
});
