/** A newer list of leap seconds that the operator put into DATA_DIR. */
import { createHash } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { formatIssue } from '@/lib/core/result';
import { dayWords, setLeapTable } from '@/lib/core/time/leap-table';
import { readLeapList } from '@/lib/core/time/read-leap-list';
import { isSystemError } from './samples/durable-files';

const LIST_FILE = 'leap-seconds.list';
/** The list is some ten kilobytes long. */
const MOST_BYTES = 1_000_000;

export type LeapListSaid = Readonly<{ isUsed: boolean; sentence: string }>;

function refused(reason: string): LeapListSaid {
  return { isUsed: false, sentence: `${reason}; the built-in leap-second table is used` };
}

function readList(file: string): string | null {
  try {
    return statSync(file).size > MOST_BYTES ? '' : readFileSync(file, 'utf8');
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR'])) return null;
    if (isSystemError(error, ['EACCES', 'EPERM', 'EISDIR'])) return '';
    throw error;
  }
}

/**
 * Puts the list in use for this process, if there is one and it is right. Every process that reads
 * or writes stamps calls it first.
 *
 * @param dataDir folder in which `leap-seconds.list` is looked for
 * @returns what became of it; null where there is no list
 */
export function adoptLeapList(dataDir: string): LeapListSaid | null {
  const text = readList(path.join(dataDir, LIST_FILE));
  if (text === null) return null;
  if (text === '') return refused(`${LIST_FILE}: is empty, too large or cannot be read`);
  const sha1 = (digits: string): string => createHash('sha1').update(digits).digest('hex');
  const { value, issues } = readLeapList(text, LIST_FILE, sha1);
  if (value === null) return refused(issues.map(formatIssue).join('; '));
  setLeapTable(value);
  const { entries, expiresDay } = value;
  const last = entries.at(-1)?.taiMinusUtcS ?? 0;
  return {
    isUsed: true,
    sentence: `${LIST_FILE} is used: ${entries.length} entries, TAI - UTC ${last} s at the end, valid until ${dayWords(expiresDay)}`,
  };
}
