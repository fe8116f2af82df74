/** Characters that the PDF cannot show as they are, told before a draft is published. */
import type { DocumentCheck } from '../check-document';
import type { DebriefMaterial } from '../debrief-material';
import { blockId, type DocNode } from '../document';
import type { BlockRegistry } from '../nodes/block';
import { openContext, resolveBlock } from '../resolve';
import { type Coverage, missingGlyphs } from './glyph-text';

/** Most characters that one line of the list names. */
const MOST_NAMED = 8;

function named(letter: string): string {
  const code = (letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  return `${letter} (U+${code})`;
}

/**
 * One line for each block with characters that none of the PDF's fonts has; there they are written as
 * their code. The page (HTML) shows them by the reader's own fonts.
 */
export function glyphChecks(
  doc: DocNode,
  material: DebriefMaterial,
  parts: Readonly<{ registry: BlockRegistry; coverage: Coverage }>,
): readonly DocumentCheck[] {
  const context = openContext(material);
  return (doc.content ?? []).flatMap((block): readonly DocumentCheck[] => {
    const shown = JSON.stringify(resolveBlock(block, context, parts.registry));
    const missing = missingGlyphs(shown, parts.coverage);
    if (missing.length === 0) return [];
    const list = missing.slice(0, MOST_NAMED).map(named).join(', ');
    const more = missing.length > MOST_NAMED ? ` and ${missing.length - MOST_NAMED} more` : '';
    const message = `The PDF\u2019s fonts lack ${list}${more}: the PDF will show the code in brackets.`;
    return [{ gravity: 'look', blockId: blockId(block), message }];
  });
}
