/** The verify command: a file of a publication against the record in it, without a server. */
import { readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { verifyPage } from '@/lib/core/debrief/html/verify-page';
import { recordLabel } from '@/lib/core/debrief/record';
import { type VerifiedRecord, verifyRecord } from '@/lib/core/debrief/verify-record';
import { plainLine } from '@/lib/core/result';
import { engineVersion } from './engine-version';
import { recompute } from './recompute';
import { readVerifyArguments, VERIFY_USAGE } from './verify-arguments';
import { verifyArchive } from './verify-files';
import { verifyManifest } from './verify-manifest';
import { verifyPdf } from './verify-pdf';

const DIFFERS = 1;
const BAD_INPUT = 2;
/** A page with its fonts and a hundred figures is some 10 MB; our own choice. */
const MOST_BYTES = 512 * 1024 * 1024;
/** What to do with any other file of a publication. */
const OTHERWISE_CHECKED = [
  'any other file of a publication is checked by its manifest (.sha256): name that, with the file,',
  'the signature (.sig) and the key (.pem) beside it; a data package also by --recompute',
];
const EXPECTED =
  'an exported page (.html), PDF, DOCX, Markdown (.zip), a record (.json) or a signed manifest (.sha256)';

function complain(...lines: readonly string[]): number {
  for (const line of lines) console.error(plainLine(line));
  return BAD_INPUT;
}

/** The file's bytes; null with the reason said where it cannot be read. */
function readBytes(place: string, shown: string): Buffer | null {
  try {
    const { size } = statSync(place);
    if (size > MOST_BYTES) {
      complain(`${shown}: ${size} bytes, at most ${MOST_BYTES} are read`);
      return null;
    }
    return readFileSync(place);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    const known: Record<string, string> = { ENOENT: 'there is no such file', EISDIR: 'a folder' };
    complain(`${shown}: ${known[String(code)] ?? 'it cannot be read'}; ${EXPECTED} is expected`);
    return null;
  }
}

/** The text of a file; null with the reason said where it is none. */
function textOf(bytes: Buffer, shown: string): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    complain(`${shown}: not text; ${EXPECTED} is expected`, ...OTHERWISE_CHECKED);
    return null;
  }
}

/** The text of a record given by itself; undefined with the reason said where it cannot be read. */
function recordText(shown: string): string | undefined {
  const bytes = readBytes(fromCaller(shown), shown);
  return bytes === null ? undefined : (textOf(bytes, shown) ?? undefined);
}

function report(shown: string, verified: VerifiedRecord, numbers: number | null): number {
  const { record, unusable, sha256, lines } = verified;
  if (record === null) return complain(`${shown}: ${unusable ?? 'it cannot be used'}`);
  console.log(plainLine(`${recordLabel(record)}: ${record.title}`));
  console.log(`SHA-256 of the record: ${sha256}`);
  for (const { gravity, text } of lines) console.log(plainLine(`${gravity}: ${text}`));
  if (lines.some(({ gravity }) => gravity === 'differs')) return DIFFERS;
  console.log(
    numbers === null
      ? 'The record is in canonical form (RFC 8785).'
      : `It shows what its record says: ${numbers} numbers and all words agree.`,
  );
  console.log('Compare the SHA-256 with the publisher\u2019s own list, or give it as --sha256.');
  return 0;
}

/** Paths are meant from where the command was typed, which npm tells. */
function fromCaller(place: string): string {
  return path.resolve(process.env.INIT_CWD ?? process.cwd(), place);
}

async function main(): Promise<number> {
  const read = readVerifyArguments(process.argv.slice(2));
  if (read.kind === 'help') {
    console.log(VERIFY_USAGE);
    return 0;
  }
  if (read.kind === 'wrong') return complain(...read.problems, '--help tells how it is used');
  const { file } = read;
  if (read.kind === 'recompute') {
    const session = read.session === null ? null : fromCaller(read.session);
    return recompute({ file: fromCaller(file), session, engine: engineVersion() });
  }
  const { sha256 } = read;
  if (file.endsWith('.sha256')) return verifyManifest(fromCaller(file), file);
  const place = fromCaller(file);
  const bytes = readBytes(place, file);
  if (bytes === null) return BAD_INPUT;
  const engine = engineVersion();
  const isArchive = bytes.subarray(0, 2).toString('latin1') === 'PK';
  if (read.record !== null && !isArchive) return complain(`${file}: --record goes with a DOCX`);
  if (isArchive) {
    const record = read.record === null ? null : recordText(read.record);
    if (record === undefined) return BAD_INPUT;
    const found = await verifyArchive({ file: place, engine, sha256, record });
    return found === null ? BAD_INPUT : report(file, found, found.numbers);
  }
  if (bytes.subarray(0, 5).toString('latin1') === '%PDF-') {
    const found = await verifyPdf(bytes, engine, sha256);
    return report(file, found, found.numbers);
  }
  const text = textOf(bytes, file);
  if (text === null) return BAD_INPUT;
  if (/^\s*</.test(text)) {
    const page = verifyPage(text, engine, sha256);
    return report(file, page, page.numbers);
  }
  const claims = sha256 === null ? [] : [{ by: 'the hash that was given', sha256 }];
  return report(file, verifyRecord(text, claims), null);
}

process.exitCode = await main();
