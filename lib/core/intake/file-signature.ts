/** Files that are no delimited text, told by their first bytes, and what to do with each. */

type Signature = readonly [start: string, name: string, instead: string];

const EXPORT_CSV = 'export the table as CSV';
const UNPACK = 'unpack it and put the files in the folder';
const SIGNATURES: readonly Signature[] = [
  ['PK\u0005\u0006', 'an empty zip archive', UNPACK],
  ['PK\u0003\u0004', 'a zip archive', UNPACK],
  ['ARROW1', 'an Arrow file', 'write it as Parquet or CSV'],
  ['%PDF', 'a PDF', 'ask for the numbers as CSV'],
  ['\u0089PNG', 'a PNG picture', 'ask for the numbers as CSV'],
  ['\u00ff\u00d8\u00ff', 'a JPEG picture', 'ask for the numbers as CSV'],
  ['GIF8', 'a GIF picture', 'ask for the numbers as CSV'],
  ['\u001f\u008b', 'a gzip archive', 'unpack it'],
  ['7z\u00bc\u00af', 'a 7z archive', UNPACK],
  ['Rar!', 'a RAR archive', UNPACK],
  ['BZh', 'a bzip2 archive', 'unpack it, or pack it as gzip'],
  ['\u00fd7zXZ', 'an xz archive', 'unpack it, or pack it as gzip'],
  ['\u0028\u00b5\u002f\u00fd', 'a Zstandard archive', 'unpack it, or pack it as gzip'],
  ['\u00d0\u00cf\u0011\u00e0', 'an old office document', EXPORT_CSV],
  ['\u0089HDF', 'an HDF5 file', 'export its tables as CSV or Parquet'],
  ...['\u0001', '\u0002', '\u0005'].map((version): Signature => {
    return [`CDF${version}`, 'a netCDF file', 'export its tables as CSV or Parquet'];
  }),
  ['MATLAB 5.0 MAT-file', 'a MAT file', 'write its tables as CSV or Parquet'],
  ['SQLite format 3', 'an SQLite database', 'export its tables as CSV'],
  ['CCSDS_', 'a CCSDS message', 'name it as a telemetry or ephemeris source'],
  ['<?xml', 'XML', 'export the table as CSV'],
  ['<!DOCTYPE html', 'an HTML page', 'download the file itself'],
  ['<!doctype html', 'an HTML page', 'download the file itself'],
  ['<html', 'an HTML page', 'download the file itself'],
];

/** What a text that holds the character 0 may be. */
export const BINARY = 'binary data, or UTF-16 without a byte order mark';

/** How many first bytes `findSignature` needs. */
export const SIGNATURE_BYTES = 96;

/** A kind of file: its name with its article, and what a person can do instead. */
export type FileKind = Readonly<{ name: string; instead: string }>;

/** Zip archives that are office documents name their first part in their first bytes. */
function zipKind(start: string): FileKind | null {
  if (/^PK\u0003\u0004[\s\S]{26}mimetypeapplication\/vnd\.oasis/.test(start)) {
    return { name: 'an OpenDocument file', instead: EXPORT_CSV };
  }
  if (/^PK\u0003\u0004[\s\S]{26}(?:\[Content_Types\]\.xml|_rels\/|xl\/|docProps\/)/.test(start)) {
    return { name: 'an Office workbook or document', instead: EXPORT_CSV };
  }
  return null;
}

/**
 * True where bytes begin as a Parquet file: its mark with bytes behind it that no text holds. A
 * table of text may begin with a column called PAR1.
 *
 * @param start the first bytes, each as the character of its number (Latin-1)
 *
 * Source: Apache Parquet, file format: the mark, then page headers in Thrift's compact protocol.
 */
export function isParquetStart(start: string): boolean {
  return /^PAR1[\s\S]{0,16}[\u0000-\u0008\u000e-\u001f]/.test(start);
}

/**
 * What a file is by its first bytes.
 *
 * @param start the first bytes, each as the character of its number (Latin-1)
 * @returns null where nothing is recognised
 *
 * Source: the signatures are common practice, no source.
 */
export function findSignature(start: string): FileKind | null {
  const zip = zipKind(start);
  if (zip !== null) return zip;
  if (isParquetStart(start)) {
    return { name: 'a Parquet file', instead: 'name it as a telemetry source' };
  }
  const found = SIGNATURES.find(([signature]) => start.startsWith(signature));
  return found === undefined ? null : { name: found[1], instead: found[2] };
}
