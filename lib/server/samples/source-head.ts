/** Encoding and dialect of a source, from its first bytes. */
import { open } from 'node:fs/promises';
import { type Dialect, detectDialect } from '@/lib/core/intake/dialect';
import { findSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
import { resolveUnits } from '@/lib/core/intake/file-units';
import { longUnits } from '@/lib/core/intake/long-units';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { chooseEncoding } from './choose-encoding';
import { ambiguousColumns, planColumns } from './column-plan';
import { checkLongHeader } from './long-source';
import { encodingOfHead, HEAD_BYTES, type TextEncoding } from './source-scan';
import { textForm } from './text-form';
import { unpackHead } from './unpack-gzip';
import { jsonHead } from './unpack-json';

export type HeadBytes = Readonly<{
  bytes: number;
  head: Buffer;
  encoding: TextEncoding;
  /** Units that the form of the file fixes, by column; null where they are found by reading. */
  units: ReadonlyMap<string, string | null> | null;
}>;

export type SourceHead = Readonly<{
  dialect: Dialect;
  /** For TextDecoder. */
  encoding: string;
  /** As stated, with a unit for every channel. */
  spec: TelemetrySpec;
  issues: readonly Issue[];
}>;

export type ReadHead = Readonly<{ head: SourceHead | null; issues: readonly Issue[] }>;

function refuse(issue: Omit<Issue, 'severity'>): ReadHead {
  return { head: null, issues: [{ severity: 'error', ...issue }] };
}

/** A fault that makes looking for a table idle; null where there is none. */
function headFault(file: string, { bytes, head }: HeadBytes): ReadHead | null {
  if (bytes === 0) {
    const message = 'the file is empty; expected a header line and rows';
    return refuse({ code: 'file-empty', file, message });
  }
  const kind = findSignature(head.subarray(0, SIGNATURE_BYTES).toString('latin1'));
  if (kind !== null) {
    return refuse({
      code: 'not-text',
      file,
      message: `must be delimited text, found ${kind.name}; ${kind.instead}`,
      expected: 'delimited text',
      received: kind.name,
    });
  }
  if (head.length >= HEAD_BYTES && !/[\r\n]/.test(head.toString('latin1'))) {
    return refuse({
      code: 'header-too-long',
      file,
      line: 1,
      message: `the first line has more than ${HEAD_BYTES} bytes, too many for a header`,
      expected: `at most ${HEAD_BYTES} bytes`,
    });
  }
  return null;
}

/** @returns null with issues where encoding or dialect cannot be told */
export function readHead(spec: TelemetrySpec, found: HeadBytes): ReadHead {
  const { file, dialect: stated } = spec;
  const fault = headFault(file, found);
  if (fault !== null) return fault;
  const { label, issue } = chooseEncoding(found.encoding, stated.encoding, file);
  const said = issue === null ? [] : [issue];
  if (label === null) return { head: null, issues: said };
  const text = new TextDecoder(label).decode(found.head);
  const read = detectDialect(text, stated);
  const issues = [...said, ...read.issues.map((each) => ({ ...each, file }))];
  if (read.value === null || hasErrors(issues)) return { head: null, issues };
  const { units } = found;
  const dialect =
    units === null
      ? read.value
      : { ...read.value, units: read.value.columns.map((name) => units.get(name) ?? null) };
  const named = spec.layout === 'long' ? longUnits(text, dialect, spec) : undefined;
  const resolved = resolveUnits(spec, dialect, named);
  // A unit that a standard fixes is no matter of opinion.
  const judged = resolved.issues.map(
    (each): Issue => ({
      ...each,
      severity: units === null ? each.severity : 'error',
    }),
  );
  issues.push(...judged, ...ambiguousColumns(spec, dialect));
  if (hasErrors(issues)) return { head: null, issues };
  return { head: { dialect, encoding: label, spec: resolved.spec, issues }, issues };
}

/** The first bytes of a file as delimited text; null for a form that only the import can open. */
function textOfHead(head: Buffer): Buffer | null {
  switch (textForm(head)) {
    case 'delimited':
      return head;
    case 'json-lines': {
      const text = jsonHead(head.toString('utf8'));
      return text === null ? null : Buffer.from(text);
    }
    case 'gzip': {
      const inner = unpackHead(head).subarray(0, HEAD_BYTES);
      return inner.length === 0 || textForm(inner) !== 'delimited' ? null : inner;
    }
    case 'parquet':
    case 'ccsds':
      return null;
  }
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
    const bytes = textOfHead(buffer.subarray(0, bytesRead));
    if (bytes === null) return [];
    const lineEnd = bytes.lastIndexOf(0x0a);
    const head = lineEnd < 0 ? bytes : bytes.subarray(0, lineEnd + 1);
    const found = { bytes: bytesRead, head, encoding: encodingOfHead(head), units: null };
    const read = readHead(spec, found);
    // Warnings come again, with the import itself.
    if (read.head === null) return read.issues.filter((issue) => issue.severity === 'error');
    const { columns } = read.head.dialect;
    if (spec.layout === 'long') return checkLongHeader(columns, spec);
    return planColumns(columns, spec, new Set()).issues;
  } finally {
    await handle.close();
  }
}
