/** Puts a block that was sent from a screen into a draft, at the end of the section it belongs to. */
import canonicalize from 'canonicalize';
import { type DocNode, LIVE_PLACED, nodeText, SECTION_KEY } from './document';
import { headingWords } from './template/check-template';

/** A section by the id that its heading was drafted with, else by the words of a first-level heading. */
export type SectionPlace = Readonly<{ id: string; title: string }>;

const levelOf = (block: DocNode): number =>
  block.type === 'heading' ? Number(block.attrs?.level ?? 1) : Number.POSITIVE_INFINITY;

function headingOf(blocks: readonly DocNode[], { id, title }: SectionPlace): number {
  const keyed = blocks.findIndex((each) => levelOf(each) <= 3 && each.attrs?.[SECTION_KEY] === id);
  if (keyed >= 0) return keyed;
  return blocks.findIndex(
    (each) => levelOf(each) === 1 && headingWords(nodeText(each)) === headingWords(title),
  );
}

/** True where a draft holds a block of this kind that says the same: all but its id and its caption. */
export function holdsBlock(doc: DocNode, { type, attrs }: DocNode): boolean {
  const said = (given: DocNode['attrs']) => {
    const { id: _, caption: __, [LIVE_PLACED]: ___, ...rest } = given ?? {};
    return canonicalize(rest);
  };
  const wanted = said(attrs);
  return (doc.content ?? []).some((block) => block.type === type && said(block.attrs) === wanted);
}

/**
 * The draft with a block more.
 *
 * @param section at whose end it is put
 * @returns the draft, and the words of the heading that the block stands under now: null where the
 *   draft has no such section, and it stands at its end
 */
export function placeBlock(
  doc: DocNode,
  block: DocNode,
  section: SectionPlace,
): Readonly<{ doc: DocNode; under: string | null }> {
  const blocks = doc.content ?? [];
  const at = headingOf(blocks, section);
  const own = blocks[at];
  const isNext = (each: DocNode, index: number): boolean =>
    own !== undefined && index > at && levelOf(each) <= levelOf(own);
  const next = blocks.findIndex(isNext);
  const end = next < 0 ? blocks.length : next;
  const content = [...blocks.slice(0, end), block, ...blocks.slice(end)];
  return {
    doc: { ...doc, content },
    under: own === undefined ? null : headingWords(nodeText(own)),
  };
}
