/** What a debrief lacks of what its template requires. */
import type { DebriefMaterial } from '../debrief-material';
import { blockId, type DocNode, nodeText } from '../document';
import { SECTION_TITLES } from '../draft';
import type { BlockRegistry } from '../nodes/block';
import { openContext, resolveBlock } from '../resolve';
import type { ResolvedBlock } from '../resolved';
import { findSection, headingWords } from '../section-span';
import { type TemplateSection, WORDS } from './template';

type TemplateCheck = Readonly<{ gravity: 'stops' | 'look'; blockId: string; message: string }>;

/** The heading that a section of a template has in a draft. */
export function sectionHeading({ heading, section, id }: TemplateSection): string {
  return heading ?? (section === null ? id : SECTION_TITLES[section]);
}

type Part = Readonly<{ id: string; title: string; blocks: readonly DocNode[] }>;

/** What stands under the heading of a section; null where there is none. */
function partOf(doc: DocNode, section: TemplateSection): Part | null {
  const blocks = doc.content ?? [];
  const title = headingWords(sectionHeading(section));
  const span = findSection(blocks, { id: section.id, title });
  if (span === null) return null;
  const shown = headingWords(nodeText(span.heading));
  return {
    id: blockId(span.heading),
    title: shown === '' ? title : shown,
    blocks: blocks.slice(span.from, span.to),
  };
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

/** Whether the session has anything for a block; of what is drawn, samples need not be loaded here. */
function canBeHad(name: string, material: DebriefMaterial, registry: BlockRegistry): boolean {
  const block = registry.get(name);
  if (block === undefined) return false;
  const isFlown = material.reconstruction.approach !== null;
  return (block.drawsSamples && isFlown) || block.choices(material).length > 0;
}

function requirements(
  section: TemplateSection,
  part: Part,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly TemplateCheck[] {
  const { title } = part;
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
        canBeHad(name, material, registry)
          ? say(
              'stops',
              `${label} is missing under \u201c${title}\u201d; the template wants it there: insert it.`,
            )
          : say(
              'look',
              `${label}, which the template wants under \u201c${title}\u201d, has nothing to show of this session.`,
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
 * What the session has nothing for stops nothing: no person could put it in.
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
    const part = partOf(doc, section);
    if (part !== null) return requirements(section, part, material, registry);
    if (section.required.length === 0) return [];
    const message = `The template wants a section \u201c${headingWords(sectionHeading(section))}\u201d, and no heading is it: write a heading of the first level in these words.`;
    return [{ gravity: 'stops', blockId: '', message }];
  });
}
