/** What there is to say about a source once its rows have been read. */
import { statfs } from 'node:fs/promises';
import { areDays } from '@/lib/core/intake/proposal/day-numbers';
import { shownCell } from '@/lib/core/intake/shown-cell';
import {
  counterWords,
  dateOrderWords,
  dayResolutionWords,
  leapSecondWords,
  midnightOpenWords,
  midnightWords,
  STAMP_EXAMPLES,
  stampHint,
} from '@/lib/core/intake/stamp-words';
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { linePlace } from '@/lib/core/session/stamp-fault';
import type { ColumnPlan } from './column-plan';
import type { DataResult } from './data-result';
import type { SampleManifest } from './sample-manifest';

/** Store and original together take less than this many times the source. */
const SPACE_FACTOR = 2.2;
const MIB = 1024 * 1024;

/** A turn of one second is a leap second. */
const LEAP_SPAN_S = 1;

const SHOWN_FAULTS = 3;

/** The first stamps out of order in words: line and size of each. */
function stampFaultWords(stampFaults: SampleManifest['stampFaults']): string {
  const shown = stampFaults.slice(0, SHOWN_FAULTS).map((fault) => {
    const { kind, startS, endS } = fault;
    const size = Math.round((endS - startS) * 1e6) / 1e6;
    if (kind === 'duplicate') return `${linePlace(fault)} repeats a stamp`;
    return `${linePlace(fault)} ${kind === 'jump' ? 'jumps' : 'steps back'} ${size} s`;
  });
  const more = stampFaults.length - shown.length;
  return more > 0 ? `${shown.join(', ')} and ${more} more places` : shown.join(', ');
}

/** The file and line of what is found first; the source alone where nothing has a line. */
export function placeOf(
  file: string,
  found: Readonly<{ line: number; file?: string }> | undefined,
): Readonly<{ file: string; line?: number }> {
  return found === undefined ? { file } : { file: found.file ?? file, line: found.line };
}

/** Stamps that repeat, step back or jump, each with line and size. */
function stampIssues({ rowsOutOfOrder, stampFaults }: SampleManifest, file: string): Issue[] {
  const issues: Issue[] = [];
  const [first, ...others] = stampFaults.filter(({ kind }) => kind !== 'jump');
  if (rowsOutOfOrder > 0) {
    const where = first === undefined ? '' : `: ${stampFaultWords([first, ...others])}`;
    issues.push({
      code: 'time-not-ascending',
      severity: 'warning',
      ...placeOf(file, first),
      message: `${
        rowsOutOfOrder === 1
          ? '1 row repeats a stamp or steps back in time; it is'
          : `${rowsOutOfOrder} rows repeat a stamp or step back in time; they are`
      } kept out of the series${where}`,
    });
  }
  const jumps = stampFaults
    .filter(({ kind }) => kind === 'jump')
    .sort((a, b) => b.endS - b.startS - (a.endS - a.startS));
  const [longest] = jumps;
  if (longest !== undefined) {
    issues.push({
      code: 'time-jumps',
      severity: 'note',
      ...placeOf(file, longest),
      message: `stamps jump forward by more than five steps, the longest first: ${stampFaultWords(jumps)}; nothing is evaluated inside`,
    });
  }
  return issues;
}

/** Stamps taken for seconds that are days of a spreadsheet. */
function dayIssues({ fromS, toS, rows }: SampleManifest, { file, time }: FileAndTime): Issue[] {
  if (time.code !== 'elapsed-seconds' || fromS === null || toS === null) return [];
  if (!areDays(fromS, toS, rows)) return [];
  const message = `its times run from ${fromS} to ${toS}: they look like days, as spreadsheets save dates, and are read as seconds. State the code days-since-1900 (or days-since-1904, modified-julian-date), or save the column as text, such as 2031-04-17T09:12:30.25`;
  return [{ code: 'spreadsheet-days', severity: 'warning', file, message }];
}

type FileAndTime = Pick<TelemetrySpec, 'file' | 'time'>;

/** What a manifest alone has to say about the source. */
export function manifestIssues(manifest: SampleManifest, spec: FileAndTime): Issue[] {
  const { file } = spec;
  const issues = dayIssues(manifest, spec);
  if (manifest.rowsRejected + manifest.cellsRejected > 0) {
    issues.push({
      code: 'rejects',
      severity: 'warning',
      file,
      message: `${manifest.rowsRejected} of ${manifest.rowsRead} rows and ${manifest.cellsRejected} cells could not be used`,
    });
  }
  issues.push(...stampIssues(manifest, file));
  const { dayTurns = [], dateOrder, dayResolution } = manifest;
  const [firstTurn] = dayTurns;
  if (firstTurn !== undefined) {
    const count = dayTurns.length;
    const { spanS } = firstTurn;
    const counted = () =>
      spanS === LEAP_SPAN_S
        ? leapSecondWords()
        : counterWords(firstTurn, { spanS: spanS ?? 0, count });
    const words = spanS === undefined ? midnightWords(firstTurn, count) : counted();
    issues.push({ ...placeOf(file, firstTurn), ...words });
  }
  if (dayResolution !== undefined) issues.push({ file, ...dayResolutionWords(dayResolution) });
  if (dateOrder !== undefined) issues.push({ file, ...dateOrderWords(dateOrder) });
  const notFinite = manifest.channels.filter((channel) => channel.notFinite > 0);
  if (notFinite.length > 0) {
    issues.push({
      code: 'not-finite',
      severity: 'note',
      file,
      message: `NaN or infinite numbers are taken as no sample: ${notFinite
        .map((channel) => `${channel.name} ${channel.notFinite}`)
        .join(', ')}`,
    });
  }
  const empty = manifest.channels.filter((channel) => channel.mapped && channel.samples === 0);
  if (empty.length > 0) {
    issues.push({
      code: 'channel-empty',
      severity: 'warning',
      file,
      message: `channels without a single sample: ${empty.map((channel) => channel.name).join(', ')}`,
      expected: 'numbers in the column',
    });
  }
  return issues;
}

/** A source that begins with its latest row. */
export function backwardsIssue(file: string): Issue {
  return {
    code: 'rows-backwards',
    severity: 'warning',
    file,
    message:
      'its rows run from the latest to the earliest; they are read the other way round, in the order of time',
  };
}

/** What is wrong with the first line that was set aside. */
function rejectWords(first: DataResult['rejects'][number] | undefined): string {
  if (first === undefined) return '';
  const words = { 'too-few-cells': 'has too few cells', 'too-many-cells': 'has too many cells' };
  const { reason } = first;
  const what = reason in words ? words[reason as keyof typeof words] : 'cannot be taken apart';
  return `; the first ${what}: "${shownCell(first.text)}"`;
}

/** What is to be done about cells that are no numbers. */
function numberHint(cell: string | undefined): string {
  const isGrouped =
    /^\s*[+-]?\d{1,3}(?:([,.'\u2019 \u00a0\u202f])\d{3})(?:\1\d{3})*(?:[.,]\d+)?\s*$/;
  return cell !== undefined && isGrouped.test(cell)
    ? 'write the numbers without signs between thousands'
    : 'the decimal sign or the column may be another';
}

/** Room for the folder on the disk of the samples root. */
export async function checkSpace(
  samplesRoot: string,
  file: string,
  bytes: number,
): Promise<Issue | null> {
  const disk = await statfs(samplesRoot);
  const free = disk.bavail * disk.bsize;
  const needed = Math.ceil(bytes * SPACE_FACTOR) + 16 * MIB;
  if (free >= needed) return null;
  return {
    code: 'disk-space',
    severity: 'error',
    file,
    message: `not enough room on the disk: ${Math.floor(free / MIB)} MiB free, about ${Math.ceil(needed / MIB)} MiB needed`,
    expected: `${needed} bytes`,
    received: `${free} bytes`,
  };
}

/** Checks of what came out: nothing lost, nothing that is only noise. */
export function checkResult(
  spec: TelemetrySpec,
  plan: ColumnPlan,
  data: DataResult,
  countedRows: number | null,
): Issue[] {
  const { file } = spec;
  const issues: Issue[] = [];
  if (data.rowsRead === 0) {
    issues.push({
      code: 'no-rows',
      severity: 'error',
      file,
      message: 'there is no row of data under the header',
      expected: 'at least one row',
    });
    return issues;
  }
  if (countedRows !== null && countedRows !== data.rowsRead + data.remarks) {
    issues.push({
      code: 'rows-unaccounted',
      severity: 'error',
      file,
      message: `${countedRows} lines hold data but ${data.rowsRead} rows were read; the lines may be cut or quoted in an unusual way`,
      expected: `${countedRows} rows`,
      received: `${data.rowsRead} rows`,
    });
  }
  if (data.openTurn !== undefined) {
    issues.push({ ...placeOf(file, data.openTurn), ...midnightOpenWords(data.openTurn) });
    return issues;
  }
  if (2 * data.rowsBack > data.rowsRead) {
    const first = data.stampFaults.find(({ kind }) => kind === 'out_of_order');
    issues.push({
      code: 'rows-not-in-order',
      severity: 'error',
      ...placeOf(file, first),
      message: `${data.rowsBack} of ${data.rowsRead} rows have a stamp before an earlier row's: sort the file by its times, or look whether column and code of the times are the right ones`,
      expected: 'rows in the order of time',
      received: `${data.rowsBack} rows that step back`,
    });
  }
  if (data.rows === 0) {
    const first = data.rejects.find((reject) => reject.reason === 'stamp-unreadable');
    issues.push({
      code: 'no-usable-rows',
      severity: 'error',
      ...placeOf(file, first ?? data.rejects[0]),
      message:
        first === undefined
          ? `no row of the file could be used${rejectWords(data.rejects[0])}`
          : `no row has a stamp like ${STAMP_EXAMPLES[spec.time.code]}, as the code ${spec.time.code} is; the first is "${shownCell(first.text)}"${stampHint(first.text)}`,
      expected: spec.time.code,
      ...(first === undefined ? {} : { received: first.text }),
    });
  }
  // A long source counts the values of each channel by themselves and has told of them already.
  if (spec.layout === 'long') return issues;
  plan.channels.forEach((channel, index) => {
    const bad = data.rejectedCells[index] ?? 0;
    if (!channel.mapped || 2 * bad <= data.rowsRead) return;
    const first = data.rejects.find((reject) => reject.column === channel.name);
    issues.push({
      code: 'channel-not-numeric',
      severity: 'error',
      ...placeOf(file, first),
      ...(first === undefined ? {} : { received: first.text }),
      message: `${bad} of ${data.rowsRead} cells of channel "${channel.name}" are no numbers${first === undefined ? '' : `, the first is "${shownCell(first.text)}"`}; ${numberHint(first?.text)}`,
      expected: 'numbers',
    });
  });
  return issues;
}

/** A row that no reader can take apart, so long that even what is kept to show it cannot be kept. */
export function rowCutIssue(file: string): Issue {
  return {
    code: 'row-not-readable',
    severity: 'error',
    file,
    message:
      'holds a row of more than 10,000 bytes that cannot be taken apart; a quote that is never closed, a line end that is missing or another kind of file is the usual reason',
    expected: 'rows of cells, each row on a line',
  };
}
