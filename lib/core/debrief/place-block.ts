/** Puts a block that was sent from a screen into a draft, at the end of the section it belongs to. */
import canonicalize from 'canonicalize';
import { type DocNode, LIVE_PLACED, nodeText } from './document';
import { findSection, headingWords, type SectionPlace } from './section-span';

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
  const span = findSection(blocks, section);
  const end = span?.to ?? blocks.length;
  const content = [...blocks.slice(0, end), block, ...blocks.slice(end)];
  return {
    doc: { ...doc, content },
    under: span === null ? null : headingWords(nodeText(span.heading)),
  };
}
