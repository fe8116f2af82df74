/** A file in blocks, with buffers no larger than the file asks for. */
import { createReadStream, type ReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';

const LEAST_BYTES = 16 * 1024;

/**
 * Bytes of a buffer for a file of `fileBytes`.
 *
 * Buffers lie outside the heap, and a few megabytes of them bring the collector in: with buffers of
 * the full size small files cost more in collecting than in reading.
 */
export function blockBytes(fileBytes: number, mostBytes: number): number {
  return Math.min(mostBytes, Math.max(LEAST_BYTES, fileBytes + 1));
}

/** Reads a file from its start. Throws what the file system throws. */
export async function readBlocks(
  file: string,
  { mostBytes, encoding }: Readonly<{ mostBytes: number; encoding?: 'utf8' }>,
): Promise<ReadStream> {
  const { size } = await stat(file);
  return createReadStream(file, {
    highWaterMark: blockBytes(size, mostBytes),
    ...(encoding === undefined ? {} : { encoding }),
  });
}
