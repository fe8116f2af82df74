/** A model change between its row and the core's value. */
import { z } from 'zod';
import { MODEL_CHANGE_STATES, type ModelChange } from '@/lib/core/findings/model-change';
import { capturedFigureSchema, parseJson } from './rows';

/** The columns of a model change that its core value is made of. */
export const MODEL_CHANGE_COLUMNS = {
  id: true,
  version: true,
  number: true,
  parameter: true,
  now: true,
  proposed: true,
  owner: true,
  state: true,
  figures: true,
  author: true,
  earlier: true,
  updatedAt: true,
  removedAt: true,
} as const;

export type ModelChangeRow = Readonly<{
  id: string;
  version: number;
  number: number;
  parameter: string;
  now: string;
  proposed: string;
  owner: string;
  state: string;
  figures: string;
  author: string;
  earlier: string;
  updatedAt: Date;
  removedAt: Date | null;
}>;

/** What can be taken back: the words and the evidence, and whether it stood. */
const earlierSchema = z.object({
  parameter: z.string(),
  now: z.string(),
  proposed: z.string(),
  owner: z.string(),
  state: z.enum(MODEL_CHANGE_STATES),
  figures: z.array(capturedFigureSchema),
  removedAtIso: z.string().nullable(),
});

export type EarlierChange = z.infer<typeof earlierSchema>;

/** So many changes of a row can be undone. */
const MOST_UNDO = 20;

export function earlierOf(row: ModelChangeRow): readonly EarlierChange[] {
  return parseJson(z.array(earlierSchema), row.earlier);
}

/** The list with what the row says now at its end. */
export function withEarlier(row: ModelChangeRow): string {
  const { parameter, now, proposed, owner } = row;
  const said: EarlierChange = {
    parameter,
    now,
    proposed,
    owner,
    state: z.enum(MODEL_CHANGE_STATES).parse(row.state),
    figures: parseJson(z.array(capturedFigureSchema), row.figures),
    removedAtIso: row.removedAt?.toISOString() ?? null,
  };
  return JSON.stringify([...earlierOf(row), said].slice(-MOST_UNDO));
}

export function modelChangeFromRow(row: ModelChangeRow): ModelChange {
  const { id, version, number, parameter, now, proposed, owner, author } = row;
  return {
    id,
    number,
    version,
    parameter,
    now,
    proposed,
    owner,
    state: z.enum(MODEL_CHANGE_STATES).parse(row.state),
    figures: parseJson(z.array(capturedFigureSchema), row.figures),
    author,
    updatedAtIso: row.updatedAt.toISOString(),
    removed: row.removedAt === null ? 'standing' : 'removed',
    undoable: earlierOf(row).length,
  };
}
