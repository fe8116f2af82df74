/** The material of a debrief with its samples. Knows no database: the publishing process loads it too. */
import { columnLabel } from '@/lib/core/debrief/column-label';
import {
  type DebriefMaterial,
  type MaterialParts,
  makeMaterial,
} from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import type { StatedPoll } from '@/lib/core/debrief/poll-place';
import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';
import { columnsOf } from '../samples/columns-of';
import { readWindow } from '../samples/read-window';

/** Everything but the samples themselves, and where those lie. */
export type MaterialOutline = Readonly<{
  parts: Omit<MaterialParts, 'derived'>;
  samplesRoot: string;
  derivedFolder: string | null;
}>;

/** Rows of the derived columns of one reconstruction: no more than its telemetry had. */
const ALL_ROWS = Number.MAX_SAFE_INTEGER;

/**
 * The material with the samples of some columns; those that do not exist are left out.
 *
 * @param channels names of derived columns
 * @param polls what was known at the instants that the document asks for
 */
export async function fullMaterial(
  outline: MaterialOutline,
  channels: readonly string[],
  polls: readonly StatedPoll[],
): Promise<DebriefMaterial> {
  return makeMaterial({ ...outline.parts, polls, derived: await readDerived(outline, channels) });
}

async function readDerived(
  { samplesRoot: root, derivedFolder }: MaterialOutline,
  channels: readonly string[],
): Promise<DerivedColumns> {
  if (derivedFolder === null) return { tS: new Float64Array(), columns: [] };
  const manifest = await columnsOf(root, derivedFolder);
  const known = manifest.channels.filter((channel) => channels.includes(channel.name));
  if (known.length === 0 || manifest.fromS === null || manifest.toS === null) {
    return { tS: new Float64Array(), columns: [] };
  }
  const window = await readWindow(root, derivedFolder, {
    columns: known.map((channel) => channel.name),
    fromS: manifest.fromS,
    toS: manifest.toS,
    maxRows: ALL_ROWS,
  });
  const columns = window.columns.map(({ column, values }) => ({
    name: column,
    label: columnLabel(column),
    unit: known.find((channel) => channel.name === column)?.unit ?? '',
    values,
  }));
  return { tS: window.tS, columns };
}

/** The derived columns that the live blocks of a draft show. */
export function channelsOf(doc: DocNode): readonly string[] {
  const found = new Set<string>();
  const visit = (node: DocNode): void => {
    const channels = BUILT_IN_BLOCKS.get(node.type)?.channels(node.attrs) ?? [];
    for (const name of channels) found.add(name);
    for (const child of node.content ?? []) visit(child);
  };
  visit(doc);
  return [...found];
}
