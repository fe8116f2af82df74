/** Tables of a debrief whose one attribute is their caption: what most live tables are. */
import { z } from 'zod';
import type { Reconstruction } from '../../reconstruction/reconstruction';
import type { DebriefMaterial } from '../debrief-material';
import type { DraftSection } from '../draft-sections';
import { BY_HAND_MARK } from '../figure-text';
import { type ResolveContext, textRun } from '../resolve-context';
import type { TableBlock, TableCell, TableColumn } from '../resolved';
import { type Block, defineBlock } from './block';

/** The parts in which such tables differ. */
export type CaptionedTable = Readonly<{
  /** Node type in the editor's JSON. */
  name: string;
  /** For people, in the editor's menu. */
  label: string;
  caption: string;
  /** The section of a draft that ends with it; null where an author puts it in. */
  section: DraftSection | null;
  /** Records behind it: with none there is nothing to insert and nothing is drafted. */
  count: (reconstruction: Reconstruction, material: DebriefMaterial) => number;
  columns: readonly TableColumn[];
  rows: (context: ResolveContext) => readonly (readonly TableCell[])[];
  note?: (reconstruction: Reconstruction) => string;
}>;

/** What the mark behind a number says; empty where no cell carries it. */
export function byHandNote(rows: readonly (readonly TableCell[])[]): string {
  const isMarked = rows.some((row) =>
    row.some(({ runs }) =>
      runs.some((run) => run.kind === 'number' && run.text.endsWith(BY_HAND_MARK)),
    ),
  );
  return isMarked
    ? `${BY_HAND_MARK} rests on what a person set; its evidence says who, why and what was computed.`
    : '';
}

/** Sentences of a note, the empty ones left out. */
export function noteOf(...sentences: readonly string[]): string {
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

/**
 * A table of a block, under the caption that its author gave.
 *
 * @param attributes id and caption of the block
 * @param columns of the table, with how each is set
 * @param rows their cells, as many as columns
 * @param note under the table
 */
export function tableUnder(
  { id, caption }: Readonly<{ id: string; caption: string }>,
  columns: readonly TableColumn[],
  rows: readonly (readonly TableCell[])[],
  note: string,
): TableBlock {
  return { kind: 'table', id, number: 0, caption: textRun(caption).text, columns, rows, note };
}

/**
 * A block for one table with a caption that its author may change.
 *
 * @param table what is its own
 * @returns the block, for the registry
 */
export function captionedTable(table: CaptionedTable): Block {
  const { name, label, caption, columns } = table;
  return defineBlock(
    { caption: z.string().max(300) },
    {
      name,
      label,
      choices: (material) =>
        table.count(material.reconstruction, material) === 0
          ? []
          : [{ label: caption, attributes: { caption } }],
      draft: (section, material) =>
        section === table.section && table.count(material.reconstruction, material) > 0
          ? [{ caption }]
          : [],
      resolve: (attributes, context) => {
        const rows = table.rows(context);
        const note = table.note?.(context.material.reconstruction) ?? '';
        return [tableUnder(attributes, columns, rows, noteOf(note, byHandNote(rows)))];
      },
    },
  );
}
