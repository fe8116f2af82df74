/**
 * CCSDS navigation messages (tracking data, orbit and attitude ephemerides), KVN and XML, whole: all
 * segments with their metadata, comments, rows and the line each stands on.
 */
import type { Issue, Parsed } from '../../result';
import { checkSegments } from './ccsds-check';
import { readCcsdsKvn } from './ccsds-kvn';
import type { CcsdsMessage } from './ccsds-segment';
import { readCcsdsXml } from './ccsds-xml';

/** Beyond this many issues the rest is counted, not listed. */
const LISTED = 20;

/** A file of more characters than this is refused. */
export const MOST_MESSAGE_CHARACTERS = 64 * 1024 * 1024;

/**
 * True where a text is a CCSDS message by its start.
 *
 * @param start the first part of the text, some thousand characters
 */
export function isCcsdsMessage(start: string): boolean {
  const kvn = /^\uFEFF?\s*(?:COMMENT[^\n]*\s+)*CCSDS_[A-Z]{3}_VERS\s*=/.test(start);
  return (
    kvn || /^\uFEFF?\s*<[\s\S]*<(?:\w+:)?(?:tdm|oem|aem|ndm)[\s>]/.test(` ${start}`.trimStart())
  );
}

/**
 * Reads a message.
 *
 * @param text the whole file
 * @param fileName for the issues
 * @returns the message; null where one of the issues is an error: a fault of form, a time system
 *   that is not known, a number that is none, each with its line
 *
 * Source: CCSDS 503.0-B-2 (TDM), 502.0-B-3 (OEM), 504.0-B-2 (AEM), 505.0-B-3 (XML forms).
 */
export function readCcsdsMessage(text: string, fileName: string): Parsed<CcsdsMessage> {
  const isXml = /^\uFEFF?\s*</.test(text);
  const found = isXml ? readCcsdsXml(text) : readCcsdsKvn(text);
  const issues = [
    ...found.issues,
    ...(found.message === null ? [] : checkSegments(found.message)),
  ].map((issue) => ({ ...issue, file: fileName }));
  const errors = issues.filter((issue) => issue.severity === 'error');
  if (errors.length === 0) return { value: found.message, issues };
  if (issues.length <= LISTED) return { value: null, issues };
  const more: Issue = {
    code: 'more-issues',
    severity: 'error',
    file: fileName,
    message: `and ${issues.length - LISTED} more faults`,
  };
  return { value: null, issues: [...issues.slice(0, LISTED), more] };
}
