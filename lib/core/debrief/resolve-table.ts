/** A table that a person wrote. */
import { blockId, type DocNode } from './document';
import type { ResolveContext } from './resolve-context';
import type { Run, TableBlock, TableCell } from './resolved';

type RunsOf = (node: DocNode, context: ResolveContext) => readonly Run[];

/** Paragraphs of a cell, at any depth, joined by line breaks. */
function cellRuns(node: DocNode, context: ResolveContext, runsOf: RunsOf): readonly Run[] {
  if (node.type === 'paragraph' || node.type === 'heading' || node.type === 'codeBlock') {
    return runsOf(node, context);
  }
  return (node.content ?? []).flatMap((child, index): readonly Run[] => {
    const runs = cellRuns(child, context, runsOf);
    return index === 0 || runs.length === 0 ? runs : [{ kind: 'break' }, ...runs];
  });
}

function span(value: unknown): number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 1 ? value : 1;
}

/** The table without caption and without number. */
export function resolveTable(node: DocNode, context: ResolveContext, runsOf: RunsOf): TableBlock {
  const rows = (node.content ?? []).map((row) =>
    (row.content ?? []).map(
      (cell): TableCell => ({
        runs: cellRuns(cell, context, runsOf),
        header: cell.type === 'tableHeader',
        colspan: span(cell.attrs?.colspan),
        rowspan: span(cell.attrs?.rowspan),
        tone: 'plain',
      }),
    ),
  );
  return {
    kind: 'table',
    id: blockId(node),
    number: null,
    caption: '',
    columns: [],
    rows,
    note: '',
  };
}
