/** Recordings as rows of the database. */
import { z } from 'zod';
import type { Recording } from '@/lib/core/session/recording';

export const RECORDING_COLUMNS = {
  id: true,
  version: true,
  name: true,
  mediaType: true,
  sha256: true,
  bytes: true,
  durationS: true,
  folder: true,
  author: true,
  createdAt: true,
  removedAt: true,
  removedBy: true,
  clocks: {
    orderBy: { createdAt: 'desc' },
    select: {
      id: true,
      version: true,
      ties: true,
      author: true,
      reason: true,
      createdAt: true,
      undoneAt: true,
      undoneBy: true,
    },
  },
} as const;

type Kept = Readonly<{
  id: string;
  version: number;
  name: string;
  mediaType: string;
  sha256: string;
  bytes: bigint;
  durationS: number | null;
  folder: string;
  author: string;
  createdAt: Date;
  removedAt: Date | null;
  removedBy: string | null;
  clocks: readonly KeptClock[];
}>;

type KeptClock = Readonly<{
  id: string;
  version: number;
  ties: string;
  author: string;
  reason: string;
  createdAt: Date;
  undoneAt: Date | null;
  undoneBy: string | null;
}>;

const tiesSchema = z.array(z.tuple([z.number(), z.number()]));

function clockFromRow({ ties, createdAt, undoneAt, undoneBy, ...rest }: KeptClock) {
  return {
    ...rest,
    ties: tiesSchema.parse(JSON.parse(ties)),
    atIso: createdAt.toISOString(),
    undone: undoneAt === null ? null : { by: undoneBy ?? '', atIso: undoneAt.toISOString() },
  };
}

export function recordingFromRow(row: Kept): Recording {
  const { createdAt, removedAt, removedBy, bytes, clocks, ...rest } = row;
  return {
    ...rest,
    bytes: Number(bytes),
    atIso: createdAt.toISOString(),
    removed: removedAt === null ? null : { by: removedBy ?? '', atIso: removedAt.toISOString() },
    clocks: clocks.map(clockFromRow),
  };
}
