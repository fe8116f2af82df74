/** What people said of a clock, as a list: who, when, what, why, and whether it still counts. */
import type { ClockCorrection } from '../../core/session/clock-correction';
import { formatNumber } from '../../core/units/number-text';
import { stampText } from '../format-date';
import { formatSessionTime } from '../format-time';

/** What an undoing names: a row at the version that was seen, or a word of the folder. */
type UndoTarget =
  | Readonly<{ id: string; version: number }>
  | Readonly<{ kind: string; words: string }>;

/**
 * A correction as it is kept; `undone` is null while it counts, `createdAtIso` where it came with the
 * folder. `unkept` is there while a word of the folder has no row of its own.
 */
export type KeptWord<Correction = ClockCorrection> = Readonly<{
  id: string;
  version: number;
  correction: Correction;
  author: string;
  createdAtIso: string | null;
  undone: Readonly<{ by: string; atIso: string }> | null;
  unkept?: Readonly<{ kind: string; words: string }>;
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
  undo: UndoTarget;
}>;

/**
 * Corrections of one source: those that came with the folder first, as they are computed in.
 *
 * @param words what was said at a place of the log; null where no value is there
 */
export function correctionRows(
  file: string,
  kept: readonly KeptWord[],
  words: (line: number, nth: number) => string | null,
): readonly CorrectionRow[] {
  return kept
    .filter(({ correction }) => correction.source === file)
    .map((one) => keptRow(one, whatText(one.correction, words)));
}

/** One correction; `what` says it in words. */
export function keptRow(
  { id, version, correction, author, createdAtIso, undone, unkept }: KeptWord<WithReason>,
  what: string,
): CorrectionRow {
  return {
    key: id,
    who: author === '' ? 'not named' : author,
    when: createdAtIso === null ? "with the folder's people.yaml" : stampText(createdAtIso),
    what,
    why: correction.reason ?? '',
    undone: undone === null ? null : `undone by ${undone.by}, ${stampText(undone.atIso)}`,
    undo: unkept ?? { id, version },
  };
}

type WithReason = Readonly<{ reason: string | null }>;

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
