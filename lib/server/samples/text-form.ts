/** What a telemetry file is before it is a table of text. */
import { isParquetStart } from '@/lib/core/intake/file-signature';
import { isCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { decodeText, encodingOfHead } from './source-scan';

export const TEXT_FORMS = ['delimited', 'gzip', 'json-lines', 'parquet', 'ccsds'] as const;
export type TextForm = (typeof TEXT_FORMS)[number];

/** By its first bytes, whatever the file is called. */
export function textForm(head: Buffer): TextForm {
  if (head[0] === 0x1f && head[1] === 0x8b) return 'gzip';
  if (isParquetStart(head.subarray(0, 64).toString('latin1'))) return 'parquet';
  const bytes = head.subarray(0, 4096);
  const start = decodeText(bytes, encodingOfHead(bytes));
  if (isCcsdsMessage(start)) return 'ccsds';
  return /^\s*\{\s*"/.test(start) ? 'json-lines' : 'delimited';
}
