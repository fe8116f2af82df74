/** Tables of a debrief whose one attribute is their caption: what most live tables are. */
import { z } from 'zod';
import type { Reconstruction } from '../../reconstruction/reconstruction';
import { type ResolveContext, textRun } from '../resolve-context';
import type { TableCell, TableColumn } from '../resolved';
import { type Block, type DraftSection, defineBlock } from './block';

/** The parts in which such tables differ. */
export type CaptionedTable = Readonly<{
  /** Node type in the editor's JSON. */
  name: string;
  /** For people, in the editor's menu. */
  label: string;
  caption: string;
  /** The section of a draft that ends with it. */
  section: DraftSection;
  /** Records behind it: with none there is nothing to insert and nothing is drafted. */
  count: (reconstruction: Reconstruction) => number;
  columns: readonly TableColumn[];
  rows: (context: ResolveContext) => readonly (readonly TableCell[])[];
  note?: (reconstruction: Reconstruction) => string;
}>;

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
      choices: ({ reconstruction }) =>
        table.count(reconstruction) === 0 ? [] : [{ label: caption, attributes: { caption } }],
      draft: (section, { reconstruction }) =>
        section === table.section && table.count(reconstruction) > 0 ? [{ caption }] : [],
      resolve: (attributes, context) => [
        {
          kind: 'table',
          id: attributes.id,
          number: 0,
          caption: textRun(attributes.caption).text,
          columns,
          rows: table.rows(context),
          note: table.note?.(context.material.reconstruction) ?? '',
        },
      ],
    },
  );
}
