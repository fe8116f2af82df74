/** A published PDF against the record that is attached to it: set again, and compared. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { inflateSync } from 'node:zlib';
import type { VerifiedFile } from '@/lib/core/debrief/docx/verify-docx';
import { citedNumbers } from '@/lib/core/debrief/package/recompute-record';
import { sealRecord } from '@/lib/core/debrief/record';
import { type ShownLine, shownDifferences } from '@/lib/core/debrief/shown-lines';
import { type VerifyLine, verifyRecord } from '@/lib/core/debrief/verify-record';
import { renderPdfs } from '@/lib/server/publish/pdf/render-pdf';

/** Most bytes that an attachment is unpacked to; our own choice. */
const MOST_BYTES = 512 * 1024 * 1024;
/** Width of US Letter, points: the PDF says which paper it is for. */
const LETTER = /\/MediaBox\s*\[\s*0\s+0\s+612\b/;

/** A dictionary of a few entries: bounded, so that no file makes the search long. */
const EMBEDDED =
  /\/Length\s+(\d+)(?:(?!endobj)[\s\S]){0,1000}?\/Type\s*\/EmbeddedFile(?:(?!endobj)[\s\S]){0,1000}?stream\r?\n/g;

/** Source: ISO 32000-1:2008, 7.3.8 (streams), 7.4.4 (FlateDecode), 7.11.4 (embedded files). */
function attachedTexts(pdf: Buffer): readonly string[] {
  return [...pdf.toString('latin1').matchAll(EMBEDDED)].flatMap((found) => {
    const from = found.index + found[0].length;
    const stream = pdf.subarray(from, from + Number(found[1]));
    try {
      const bytes = inflateSync(stream, { maxOutputLength: MOST_BYTES });
      return [new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)];
    } catch {
      return []; // no stream of this kind: nothing that could be the record
    }
  });
}

/** Lines as another program reads them; null where it is not installed or cannot read the file. */
function linesOf(pdf: Buffer): readonly ShownLine[] | null {
  const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-verify-'));
  try {
    const file = path.join(folder, 'a.pdf');
    writeFileSync(file, pdf);
    const args = ['-raw', '-enc', 'UTF-8', file, '-'];
    const run = spawnSync('pdftotext', args, { encoding: 'utf8', maxBuffer: MOST_BYTES });
    if (run.error !== undefined || run.status !== 0) return null;
    return run.stdout
      .split('\f')
      .flatMap((page, at) =>
        page.split('\n').map((text) => ({ text, where: `on page ${at + 1}` })),
      );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function differences(
  pdf: Buffer,
  meant: Buffer,
  cited: readonly string[],
): readonly VerifyLine[] | null {
  const [is, wanted] = [linesOf(pdf), linesOf(meant)];
  return is === null || wanted === null ? null : shownDifferences(is, wanted, cited);
}

/**
 * Checks a PDF.
 *
 * @param pdf the whole file
 * @param engine version of this program's numerics: files of the same version are the same to the byte
 * @param published the hash that the publisher's list gives, where the reader has it
 * @returns `record` null where none is attached
 */
export async function verifyPdf(
  pdf: Buffer,
  engine: string,
  published: string | null,
): Promise<VerifiedFile> {
  const claims = published === null ? [] : [{ by: 'the hash that was given', sha256: published }];
  const verified = attachedTexts(pdf)
    .map((text) => verifyRecord(text, claims))
    .find(({ record }) => record !== null);
  if (verified?.record === undefined || verified.record === null) {
    const unusable = 'no published debrief: no record is attached that can be read';
    return { record: null, unusable, sha256: '', lines: [], numbers: 0 };
  }
  const { record } = verified;
  const cited = citedNumbers(record.blocks).map(({ run }) => run.text);
  const numbers = cited.length;
  const paper = LETTER.test(pdf.toString('latin1')) ? 'us-letter' : 'a4';
  const [made] = await renderPdfs(sealRecord(record), [paper]);
  if (made?.pdf.equals(pdf) === true) return { ...verified, numbers };
  const isOther = record.engine !== engine;
  const found = made === undefined ? null : differences(pdf, made.pdf, cited);
  const why =
    found === null
      ? 'pdftotext (poppler-utils) is not installed or could not read it, so that what it shows was not compared'
      : 'its words agree; drawings, layout and hidden parts were not compared one by one';
  const rest: VerifyLine = isOther
    ? { gravity: 'note', text: `written by version ${record.engine}, this is ${engine}: ${why}` }
    : { gravity: 'differs', text: `its bytes are not those that its record makes: ${why}` };
  const named = found ?? [];
  const lines = [...verified.lines, ...named, ...(named.length > 0 ? [] : [rest])];
  return { ...verified, lines, numbers };
}
