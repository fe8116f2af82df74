/** What a debrief lacks of what its template requires. */
import type { DebriefMaterial } from '../debrief-material';
import { blockId, type DocNode, nodeText } from '../document';
import { SECTION_TITLES } from '../draft';
import type { BlockRegistry } from '../nodes/block';
import { openContext, resolveBlock } from '../resolve';
import type { ResolvedBlock } from '../resolved';
import { type TemplateSection, WORDS } from './template';

type TemplateCheck = Readonly<{ gravity: 'stops' | 'look'; blockId: string; message: string }>;

/** The heading that a section of a template has in a draft. */
export function sectionHeading({ heading, section, id }: TemplateSection): string {
  return heading ?? (section === null ? id : SECTION_TITLES[section]);
}

type Part = Readonly<{ id: string; blocks: readonly DocNode[] }>;

/** What stands under a heading of the first level of these words; null where there is none. */
function partOf(doc: DocNode, title: string): Part | null {
  const blocks = doc.content ?? [];
  const isTop = (block: DocNode) => block.type === 'heading' && Number(block.attrs?.level) === 1;
  const at = blocks.findIndex((block) => isTop(block) && nodeText(block).trim() === title);
  const own = blocks[at];
  if (own === undefined) return null;
  const after = blocks.slice(at + 1);
  const end = after.findIndex(isTop);
  return { id: blockId(own), blocks: end < 0 ? after : after.slice(0, end) };
}

function isFilled(block: ResolvedBlock): boolean {
  if (block.kind === 'table') return block.rows.length > 0;
  return block.kind !== 'missing';
}

/** Words that are neither a heading nor the template's own. */
function hasOwnWords(blocks: readonly DocNode[], standing: readonly string[]): boolean {
  const plain = (text: string) => text.replace(/\s+/g, ' ').trim();
  const known = new Set(standing.map(plain));
  return blocks.some((block) => {
    const text = plain(nodeText(block));
    return block.type !== 'heading' && text !== '' && !known.has(text);
  });
}

function requirements(
  section: TemplateSection,
  part: Part,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly TemplateCheck[] {
  const title = sectionHeading(section);
  const say = (gravity: TemplateCheck['gravity'], message: string): TemplateCheck => ({
    gravity,
    blockId: part.id,
    message,
  });
  return section.required.flatMap((name): readonly TemplateCheck[] => {
    if (name === WORDS) {
      return hasOwnWords(part.blocks, section.text)
        ? []
        : [say('stops', `The template wants words of your own under \u201c${title}\u201d.`)];
    }
    const label = registry.get(name)?.label ?? name;
    const found = part.blocks.filter(({ type }) => type === name);
    if (found.length === 0) {
      return [
        say(
          'stops',
          `${label} is missing under \u201c${title}\u201d; the template wants it there.`,
        ),
      ];
    }
    const context = openContext(material);
    const shown = found.flatMap((block) => resolveBlock(block, context, registry));
    return shown.some(isFilled)
      ? []
      : [say('look', `${label} under \u201c${title}\u201d, which the template wants, is empty.`)];
  });
}

/**
 * Holds a draft against the template of its material, if there is one.
 *
 * A section is known by its heading: one that was renamed counts as missing, since nobody can tell which
 * one it was.
 *
 * @returns what is missing (`stops`) and what is there and empty (`look`), in the template's order
 */
export function checkTemplate(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly TemplateCheck[] {
  const sections = material.template?.form.sections ?? [];
  return sections.flatMap((section): readonly TemplateCheck[] => {
    const title = sectionHeading(section);
    const part = partOf(doc, title);
    if (part !== null) return requirements(section, part, material, registry);
    if (section.required.length === 0) return [];
    const message = `The template wants a section \u201c${title}\u201d.`;
    return [{ gravity: 'stops', blockId: '', message }];
  });
}
