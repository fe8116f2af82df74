/** Makes nodes of a draft: short words for the shapes that the editor's JSON is made of. */
import { type DocNode, SECTION_KEY } from './document';
import type { FigureForm } from './figure-text';
import { FIGURE_VALUE, type FigureValueAttributes } from './nodes/figure-value';

/** A part of a sentence: words, or an inline value. */
export type Phrase = string | DocNode;

/** An inline value as a rough figure of speech: few digits, its uncertainty left to its evidence. */
export function roughNode(key: string, form: FigureForm, digits: number): DocNode {
  return { type: FIGURE_VALUE, attrs: { key, form, uncertainty: 'without', digits } };
}

/** An inline value; with its uncertainty unless said otherwise. */
export function valueNode(
  key: string,
  form: FigureForm = 'number',
  uncertainty: FigureValueAttributes['uncertainty'] = 'with',
): DocNode {
  return { type: FIGURE_VALUE, attrs: { key, form, uncertainty, digits: null } };
}

function inline(phrases: readonly Phrase[]): readonly DocNode[] {
  const nodes: DocNode[] = [];
  for (const phrase of phrases) {
    const last = nodes.at(-1);
    if (typeof phrase !== 'string') nodes.push(phrase);
    else if (phrase === '') continue;
    else if (last?.type === 'text')
      nodes[nodes.length - 1] = { ...last, text: `${last.text}${phrase}` };
    else nodes.push({ type: 'text', text: phrase });
  }
  return nodes;
}

export function paragraph(id: string, phrases: readonly Phrase[]): DocNode {
  const content = inline(phrases);
  return { type: 'paragraph', attrs: { id }, ...(content.length === 0 ? {} : { content }) };
}

export function heading(id: string, level: 1 | 2 | 3, text: string): DocNode {
  return { type: 'heading', attrs: { id, level }, content: inline([text]) };
}

/** The heading of a template's section, which stays that section when it is renamed. */
export function keyedHeading(id: string, text: string, section: string): DocNode {
  return {
    type: 'heading',
    attrs: { id, level: 1, [SECTION_KEY]: section },
    content: inline([text]),
  };
}

/** A list with one paragraph an item. `nextId` gives the list and each paragraph its id. */
export function bulletList(nextId: () => string, items: readonly (readonly Phrase[])[]): DocNode {
  return {
    type: 'bulletList',
    attrs: { id: nextId() },
    content: items.map((item) => ({ type: 'listItem', content: [paragraph(nextId(), item)] })),
  };
}
