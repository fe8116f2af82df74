/** What was pasted, brought within the bounds that a draft is saved in. */
import { Fragment, type Mark, type Node, Slice } from '@tiptap/pm/model';
import {
  isCodeLanguage,
  isSpan,
  LINK_ADDRESS,
  MOST_SPAN,
} from '../../core/debrief/document-limits';

type Attributes = Node['attrs'];

/** Cells of a table as wide and as high as a draft takes them, without widths of columns. */
function cellAttributes(attrs: Attributes): Attributes {
  const bounded = (value: unknown): number =>
    isSpan(value)
      ? Number(value)
      : Math.min(MOST_SPAN, Math.max(1, Math.trunc(Number(value)) || 1));
  return {
    ...attrs,
    colspan: bounded(attrs.colspan),
    rowspan: bounded(attrs.rowspan),
    colwidth: null,
  };
}

function fittingAttributes({ type, attrs }: Node): Attributes {
  switch (type.name) {
    case 'tableCell':
    case 'tableHeader':
      return cellAttributes(attrs);
    case 'codeBlock':
      return isCodeLanguage(attrs.language) ? attrs : { ...attrs, language: null };
    case 'orderedList':
      return Number.isInteger(attrs.start) ? attrs : { ...attrs, start: 1 };
    default:
      return attrs;
  }
}

function fittingMarks(marks: readonly Mark[]): readonly Mark[] {
  return marks.filter(
    ({ type, attrs }) => type.name !== 'link' || LINK_ADDRESS.test(String(attrs.href)),
  );
}

function fitting(fragment: Fragment): Fragment {
  const nodes: Node[] = [];
  fragment.forEach((node) => {
    if (node.isText) nodes.push(node.mark(fittingMarks(node.marks)));
    else nodes.push(node.type.create(fittingAttributes(node), fitting(node.content), node.marks));
  });
  return Fragment.fromArray(nodes);
}

/**
 * The same words with spans, links and attributes that a draft may hold.
 *
 * What is out of bounds would have the whole draft refused when it is saved, and nobody could see why.
 */
export function withinBounds(slice: Slice): Slice {
  return new Slice(fitting(slice.content), slice.openStart, slice.openEnd);
}
