/** Where a section stands in a draft. */
import { type DocNode, nodeText, SECTION_KEY } from './document';

/** A section by the id that its heading was drafted with, else by the words of a first-level heading. */
export type SectionPlace = Readonly<{ id: string; title: string }>;

/** `from` and `to`: indices of the blocks under the heading, which ends before one of its level or above. */
export type SectionSpan = Readonly<{ heading: DocNode; from: number; to: number }>;

/** Words of a heading as they are compared: white space and composition of letters are no difference. */
export function headingWords(text: string): string {
  return text.normalize('NFC').replace(/\s+/g, ' ').trim();
}

const levelOf = ({ attrs }: DocNode): number => Number(attrs?.level ?? 1);

/**
 * Finds a section among the blocks of a draft.
 *
 * The heading that was drafted for it carries its id and may be called anything, at any level; one that a
 * person wrote is known by its words, at the first level.
 *
 * @returns null where no heading is it
 */
export function findSection(
  blocks: readonly DocNode[],
  { id, title }: SectionPlace,
): SectionSpan | null {
  const words = headingWords(title);
  const headings = blocks.filter(({ type }) => type === 'heading');
  const heading =
    headings.find(({ attrs }) => attrs?.[SECTION_KEY] === id) ??
    headings.find((each) => levelOf(each) === 1 && headingWords(nodeText(each)) === words);
  if (heading === undefined) return null;
  const from = blocks.indexOf(heading) + 1;
  const length = blocks
    .slice(from)
    .findIndex((each) => each.type === 'heading' && levelOf(each) <= levelOf(heading));
  return { heading, from, to: length < 0 ? blocks.length : from + length };
}
