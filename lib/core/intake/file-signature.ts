/** Files that are no delimited text, told by their first bytes. */

const SIGNATURES: readonly (readonly [start: string, name: string])[] = [
  ['PK\u0003\u0004', 'a zip archive'],
  ['PK\u0005\u0006', 'an empty zip archive'],
  ['PAR1', 'a Parquet file'],
  ['ARROW1', 'an Arrow file'],
  ['%PDF', 'a PDF'],
  ['\u0089PNG', 'a PNG picture'],
  ['\u00ff\u00d8\u00ff', 'a JPEG picture'],
  ['GIF8', 'a GIF picture'],
  ['\u001f\u008b', 'a gzip archive'],
  ['7z\u00bc\u00af', 'a 7z archive'],
  ['Rar!', 'a RAR archive'],
  ['\u00d0\u00cf\u0011\u00e0', 'an old office document'],
  ['\u0089HDF', 'an HDF5 file'],
  ['MATLAB 5.0 MAT-file', 'a MAT file'],
  ['SQLite format 3', 'an SQLite database'],
  ['CCSDS_', 'a CCSDS message'],
  ['<?xml', 'XML'],
  ['<!DOCTYPE html', 'an HTML page'],
  ['<!doctype html', 'an HTML page'],
  ['<html', 'an HTML page'],
];

/** What a text that holds the character 0 may be. */
export const BINARY = 'binary data, or UTF-16 without a byte order mark';

/** How many first bytes `fileSignature` needs. */
export const SIGNATURE_BYTES = 24;

/**
 * What a file is by its first bytes.
 *
 * @param start the first bytes, each as the character of its number (Latin-1)
 * @returns a name with its article; null where nothing is recognised
 *
 * Source: the signatures are common practice, no source.
 */
export function fileSignature(start: string): string | null {
  return SIGNATURES.find(([signature]) => start.startsWith(signature))?.[1] ?? null;
}
