/** gzip to plain bytes, never more of them than a stated bound. */
import { createWriteStream } from 'node:fs';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { constants, createGunzip, gunzipSync } from 'node:zlib';
import type { Issue } from '@/lib/core/result';
import { isSystemError } from './durable-files';
import { blockBytes, readBlocks } from './read-blocks';

const MIB = 1024 * 1024;
/** A packed file may become this many times larger, and this much more on top. */
export const MOST_RATIO = 200;
const FREE_BYTES = 64 * MIB;

/** Bytes that a packed file of this size may become. */
export function mostUnpackedBytes(packedBytes: number): number {
  return FREE_BYTES + MOST_RATIO * packedBytes;
}

class TooLarge extends Error {}

function bounded(mostBytes: number): Transform {
  let bytes = 0;
  return new Transform({
    transform(block: Buffer, _encoding, done) {
      bytes += block.length;
      if (bytes > mostBytes) done(new TooLarge());
      else done(null, block);
    },
  });
}

export function brokenIssue(file: string): Issue {
  return {
    code: 'gzip-broken',
    severity: 'error',
    file,
    message: 'is a gzip archive that is cut off or damaged; pack it again',
    expected: 'a whole gzip archive',
  };
}

export function tooLargeIssue(file: string, mostBytes: number): Issue {
  const most = `${Math.floor(mostBytes / MIB)} MiB`;
  return {
    code: 'gzip-too-large',
    severity: 'error',
    file,
    message: `unpacks to more than ${most}, over ${MOST_RATIO} times its size; unpack it yourself if it is what it should be`,
    expected: `at most ${most}`,
  };
}

const BROKEN = ['Z_DATA_ERROR', 'Z_BUF_ERROR'];

/** Writes the unpacked bytes to `target`. @returns what stood in the way, null where nothing did */
export async function unpackGzip(
  source: Readonly<{ file: string; name: string; bytes: number }>,
  target: string,
  signal: AbortSignal | undefined,
): Promise<Issue | null> {
  const mostBytes = mostUnpackedBytes(source.bytes);
  try {
    await pipeline(
      await readBlocks(source.file, { mostBytes: MIB }),
      createGunzip({ chunkSize: blockBytes(8 * source.bytes, MIB) }),
      bounded(mostBytes),
      createWriteStream(target, { flags: 'wx' }),
      { signal },
    );
    return null;
  } catch (error) {
    signal?.throwIfAborted();
    if (error instanceof TooLarge) return tooLargeIssue(source.name, mostBytes);
    if (isSystemError(error, BROKEN)) return brokenIssue(source.name);
    throw error;
  }
}

/** More than a head is not unpacked of one: a few bytes can stand for a thousand times as many. */
const MOST_OF_HEAD = 4 * MIB;

function unpackPiece(piece: Buffer): Buffer | 'too-large' {
  try {
    return gunzipSync(piece, {
      finishFlush: constants.Z_SYNC_FLUSH,
      maxOutputLength: MOST_OF_HEAD,
    });
  } catch (error) {
    if (isSystemError(error, ['ERR_BUFFER_TOO_LARGE'])) return 'too-large';
    // The import itself tells what is wrong with the archive.
    if (isSystemError(error, BROKEN)) return Buffer.alloc(0);
    throw error;
  }
}

/**
 * The first bytes of what is packed, from the first bytes of the archive; empty where damaged.
 *
 * @returns at most 4 MiB, whatever the archive would become
 */
export function unpackHead(head: Buffer): Buffer {
  for (let length = head.length; length > 0; length >>= 1) {
    const unpacked = unpackPiece(head.subarray(0, length));
    if (unpacked !== 'too-large') return unpacked;
  }
  return Buffer.alloc(0);
}
