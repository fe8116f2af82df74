/** Differences between ranges in one file beside the derived columns: what the bias is a mean of. */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { PairDifferences } from '@/lib/core/reconstruction/navigation-report';
import { samplePath } from './columns-of';
import { isSystemError, writeDurably } from './durable-files';

export const DIFFERENCES_FILE = 'differences.json';

const column = z.array(z.number()).transform((values) => Float64Array.from(values));

const fileSchema = z.object({
  format: z.literal('wakeline/differences/1'),
  pairs: z.array(
    z.object({
      first: z.string(),
      second: z.string(),
      everySample: z.number().int(),
      tS: column,
      rangeM: column,
      differenceM: column,
    }),
  ),
});

function textOf(differences: readonly PairDifferences[]): string {
  const pairs = differences.map(({ first, second, everySample, tS, rangeM, differenceM }) => ({
    first,
    second,
    everySample,
    tS: [...tS],
    rangeM: [...rangeM],
    differenceM: [...differenceM],
  }));
  return `${JSON.stringify({ format: 'wakeline/differences/1', pairs })}\n`;
}

/** Hash of everything that would be written. */
export function differencesHash(differences: readonly PairDifferences[]): string {
  return createHash('sha256').update(textOf(differences)).digest('hex');
}

/** Writes the file into a folder that is being filled. */
export async function writeDifferences(
  folder: string,
  differences: readonly PairDifferences[],
): Promise<void> {
  await writeDurably(path.join(folder, DIFFERENCES_FILE), textOf(differences));
}

/** @returns none where the folder was written without: one range only, or before they were kept */
export async function readDifferences(
  samplesRoot: string,
  folder: string,
): Promise<readonly PairDifferences[]> {
  try {
    const text = await readFile(
      path.join(samplePath(samplesRoot, folder), DIFFERENCES_FILE),
      'utf8',
    );
    return fileSchema.parse(JSON.parse(text)).pairs;
  } catch (error) {
    if (isSystemError(error, ['ENOENT'])) return [];
    throw error;
  }
}
