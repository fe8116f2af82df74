/** How many ranges are spoken in a log whose times count from a moment that it does not name. */
import { findCallouts } from '@/lib/core/callouts/find-callouts';
import { readEventLog } from '@/lib/core/intake/event-log';
import { findLogColumns } from '@/lib/core/intake/formats/log-columns';
import type { SketchedTable } from '@/lib/core/intake/proposal/file-sketch';
import type { LogEntry } from '@/lib/core/session/session-input';
import type { TimeSpec } from '@/lib/core/time/time-code';

const ZERO = { taiNs: 0n };
/** Stamps that a line of a log may begin with and that are no date. */
const ELAPSED = ['elapsed-dhms', 'elapsed-seconds'] as const;

/** Certain ranges only: a doubtful one tells no clock. */
function countRanges(entries: readonly LogEntry[]): number {
  return findCallouts(entries).filter(({ kind, doubtful }) => kind === 'range' && !doubtful).length;
}

function elapsedSpec(code: (typeof ELAPSED)[number]): TimeSpec {
  return { columns: [], code, scale: 'UTC', from: ZERO };
}

/**
 * Ranges spoken in captions or in lines with elapsed stamps.
 *
 * @param text the log or parts of it; a cue that the edge of a part cuts counts for nothing
 * @returns 0 for a log with dates, whose times say by themselves where it lies
 */
export function spokenInText(text: string, fileName: string): number {
  const read = (time: TimeSpec | null): number =>
    countRanges(readEventLog({ text, fileName, time, zero: ZERO }).value?.entries ?? []);
  return Math.max(read(null), ...ELAPSED.map((code) => read(elapsedSpec(code))));
}

/** Ranges spoken in the column of words of a log in columns. */
export function spokenInTable(table: SketchedTable): number {
  const cells = table.cells[findLogColumns(table.columns).text] ?? [];
  return countRanges(
    cells.map((text, line) => ({
      sourceS: line,
      sourceEndS: null,
      event: null,
      text,
      speaker: null,
      line,
    })),
  );
}
