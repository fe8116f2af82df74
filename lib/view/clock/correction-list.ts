/** What people said of a clock, as a list: who, when, what, why, and whether it still counts. */
import type { ClockCorrection } from '../../core/session/clock-correction';
import { formatNumber } from '../../core/units/number-text';
import { stampText } from '../format-date';
import { formatSessionTime } from '../format-time';

/** A correction as it is kept; `undone` is null while it counts. */
export type KeptWord<Correction = ClockCorrection> = Readonly<{
  id: string;
  version: number;
  correction: Correction;
  author: string;
  createdAtIso: string;
  undone: Readonly<{ by: string; atIso: string }> | null;
}>;

export type CorrectionRow = Readonly<{
  key: string;
  who: string;
  when: string;
  what: string;
  why: string;
  undone: string | null;
  /** Why it changes nothing, as a sentence; absent where it counts or was undone. */
  fault?: string;
  /** What an undoing names; null where it came with the folder and is no row of the database. */
  undo: Readonly<{ id: string; version: number }> | null;
}>;

type Said = Readonly<{ corrections: readonly ClockCorrection[]; kept: readonly KeptWord[] }>;

/**
 * Corrections of one source: those that came with the folder first, as they are computed in.
 *
 * @param words what was said at a place of the log; null where no value is there
 */
export function correctionRows(
  file: string,
  { corrections, kept }: Said,
  words: (line: number, nth: number) => string | null,
): readonly CorrectionRow[] {
  const whatOf = (correction: ClockCorrection) => whatText(correction, words);
  const own = corrections
    .filter(({ source }) => source === file)
    .map((correction, index) => ({
      key: `folder-${index}`,
      who: correction.by ?? 'not named',
      when: "with the folder's people.yaml",
      what: whatOf(correction),
      why: correction.reason ?? '',
      undone: null,
      undo: null,
    }));
  const later = kept
    .filter(({ correction }) => correction.source === file)
    .map((one) => keptRow(one, whatOf(one.correction)));
  return [...own, ...later];
}

/** A correction of the database; `what` says it in words. */
export function keptRow(
  { id, version, correction, author, createdAtIso, undone }: KeptWord<{ reason: string | null }>,
  what: string,
): CorrectionRow {
  return {
    key: id,
    who: author,
    when: stampText(createdAtIso),
    what,
    why: correction.reason ?? '',
    undone: undone === null ? null : `undone by ${undone.by}, ${stampText(undone.atIso)}`,
    undo: { id, version },
  };
}

function whatText(
  correction: ClockCorrection,
  words: (line: number, nth: number) => string | null,
): string {
  if (correction.kind === 'tie-point') {
    const { sourceS, sessionS, sdS } = correction;
    return `Tie point: source ${formatSessionTime(sourceS, 2)} is session ${formatSessionTime(sessionS, 2)}, standard deviation ${trimmed(sdS)} s`;
  }
  const { line, nth } = correction;
  const said = words(line, nth);
  const place = `line ${line}${nth > 1 ? `, value ${nth}` : ''}`;
  const where = said === null ? `${place} (no spoken value there)` : `${place}, “${said}”`;
  if (correction.kind !== 'correct') {
    return `${correction.kind === 'accept' ? 'Accepted' : 'Rejected'}: ${where}`;
  }
  const { quantity, saidSi } = correction;
  const value = `${trimmed(saidSi)} ${quantity === 'range' ? 'm' : 'm/s'}`;
  return `Corrected to a ${quantity} of ${value}: ${where}`;
}

function trimmed(value: number): string {
  return formatNumber(value, 4).replace(/\.?0+$/, '');
}

type Refusal = Readonly<{ code: string; message: string; newer?: unknown }>;

/** Why a correction was not undone: most often because somebody else was quicker. */
export function undoRefusal({ code, message, newer }: Refusal): string {
  if (code !== 'changed-meanwhile') return message;
  if (newer === null || newer === undefined) return 'Somebody changed it meanwhile.';
  const by: unknown =
    typeof newer === 'object' && newer !== null ? Reflect.get(newer, 'undoneBy') : null;
  return typeof by === 'string' ? `Undone already, by ${by}.` : 'Undone already.';
}
