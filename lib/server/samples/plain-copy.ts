/**
 * A UTF-8 copy with line feeds, for the sources that DuckDB's reader would refuse as they are:
 * another encoding, or line ends of more than one kind. Lines keep their numbers.
 */
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Issue } from '@/lib/core/result';
import type { SourceScan, TextEncoding } from './source-scan';

/** Name for TextDecoder, or an issue when the bytes are in an encoding that nobody stated. */
export function chooseEncoding(
  found: TextEncoding,
  stated: string | null,
  file: string,
): Readonly<{ label: string | null; issue: Issue | null }> {
  // Stated without its order of bytes, which the mark at the start tells.
  if (stated === 'utf-16' && found === 'utf-16be') return { label: found, issue: null };
  if (stated !== null) {
    try {
      return { label: new TextDecoder(stated).encoding, issue: null };
    } catch {
      const issue: Issue = {
        code: 'encoding-unknown',
        severity: 'error',
        message: `the encoding "${stated}" is not known; expected a name such as utf-8, utf-16le, iso-8859-1 or windows-1252`,
        file,
        expected: 'a known encoding',
        received: stated,
      };
      return { label: null, issue };
    }
  }
  if (found !== 'other') return { label: found, issue: null };
  return {
    label: null,
    issue: {
      code: 'encoding-not-stated',
      severity: 'error',
      message:
        'the file is not UTF-8 text; state its encoding (for example `encoding: windows-1252`) at this source in session.yaml',
      file,
      expected: 'UTF-8 text',
      received: 'bytes that are no UTF-8',
    },
  };
}

/** True when DuckDB may read the source itself. */
export function isPlain(scan: SourceScan, encodingLabel: string): boolean {
  return encodingLabel === 'utf-8' && scan.encoding === 'utf-8' && scan.lineEnds !== 'mixed';
}

/** Writes the copy. An abort stops it. */
export async function writePlainCopy(
  source: string,
  target: string,
  encodingLabel: string,
  signal: AbortSignal | undefined,
): Promise<void> {
  const decoder = new TextDecoder(encodingLabel);
  const out = await open(target, 'wx');
  try {
    let carry = '';
    for await (const block of createReadStream(source, { highWaterMark: 1 << 20 })) {
      signal?.throwIfAborted();
      let text = carry + decoder.decode(block, { stream: true });
      // A carriage return at the very end may be half of a line end.
      carry = text.endsWith('\r') ? '\r' : '';
      if (carry !== '') text = text.slice(0, -1);
      await out.write(text.replace(/\r\n?/g, '\n'));
    }
    await out.write((carry + decoder.decode()).replace(/\r\n?/g, '\n'));
  } finally {
    await out.close();
  }
}
