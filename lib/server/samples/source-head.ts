/** Encoding and dialect of a source, from its first bytes. */
import { open } from 'node:fs/promises';
import { type Dialect, detectDialect } from '@/lib/core/intake/dialect';
import { fileSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { planColumns } from './column-plan';
import { checkLongHeader } from './long-source';
import { chooseEncoding } from './plain-copy';
import { encodingOfHead, HEAD_BYTES, type TextEncoding } from './source-scan';

export type HeadBytes = Readonly<{ bytes: number; head: Buffer; encoding: TextEncoding }>;

export type SourceHead = Readonly<{
  dialect: Dialect;
  /** For TextDecoder. */
  encoding: string;
  issues: readonly Issue[];
}>;

/** @returns null with issues where encoding or dialect cannot be told */
export function readHead(
  spec: TelemetrySpec,
  found: HeadBytes,
): Readonly<{ head: SourceHead | null; issues: readonly Issue[] }> {
  const { file, dialect: stated } = spec;
  if (found.bytes === 0) {
    const issue: Issue = {
      code: 'file-empty',
      severity: 'error',
      file,
      message: 'the file is empty; expected a header line and rows',
    };
    return { head: null, issues: [issue] };
  }
  const kind = fileSignature(found.head.subarray(0, SIGNATURE_BYTES).toString('latin1'));
  if (kind !== null) {
    const issue: Issue = {
      code: 'not-text',
      severity: 'error',
      file,
      message: `must be delimited text, found ${kind}`,
      expected: 'delimited text',
      received: kind,
    };
    return { head: null, issues: [issue] };
  }
  const { label, issue } = chooseEncoding(found.encoding, stated.encoding, file);
  if (label === null) return { head: null, issues: issue === null ? [] : [issue] };
  if (found.head.length >= HEAD_BYTES && !/[\r\n]/.test(found.head.toString('latin1'))) {
    const issue: Issue = {
      code: 'header-too-long',
      severity: 'error',
      file,
      line: 1,
      message: `the first line has more than ${HEAD_BYTES} bytes, too many for a header`,
      expected: `at most ${HEAD_BYTES} bytes`,
    };
    return { head: null, issues: [issue] };
  }
  const dialect = detectDialect(new TextDecoder(label).decode(found.head), stated);
  const issues = dialect.issues.map((each) => ({ ...each, file }));
  if (dialect.value === null || hasErrors(issues)) return { head: null, issues };
  return { head: { dialect: dialect.value, encoding: label, issues }, issues };
}

/** The faults that the first bytes of a file show: dialect, header, columns that are missing. */
export async function checkTelemetryHead(
  file: string,
  spec: TelemetrySpec,
): Promise<readonly Issue[]> {
  const handle = await open(file, 'r');
  try {
    const buffer = Buffer.alloc(HEAD_BYTES);
    const { bytesRead } = await handle.read(buffer, 0, HEAD_BYTES, 0);
    const bytes = buffer.subarray(0, bytesRead);
    const lineEnd = bytes.lastIndexOf(0x0a);
    const head = lineEnd < 0 ? bytes : bytes.subarray(0, lineEnd + 1);
    const read = readHead(spec, { bytes: bytesRead, head, encoding: encodingOfHead(head) });
    if (read.head === null) return read.issues;
    // Warnings come again, with the import itself.
    const { columns } = read.head.dialect;
    if (spec.layout === 'long') return checkLongHeader(columns, spec);
    return planColumns(columns, spec, new Set()).issues;
  } finally {
    await handle.close();
  }
}
