/** What people decided about rules: beside each rule, as a list, and as a form reads it. */
import type { DispositionResult, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameFromId } from '../core/session/name-from-id';
import type { RuleDisposition } from '../core/session/rule-disposition';
import type { ReadForm, Typed } from './clock/clock-edit';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';
import { placeText } from './evidence-words';
import { formatSessionTime } from './format-time';
import { parseSessionTime } from './timeline-readout';
import { type EntryPlace, readTimeEntry } from './timeline-time-entry';

/** One decision beside a rule's verdict. */
export type DispositionView = Readonly<{
  key: string;
  /** `waived by DIRECTOR at 00:39:11.8`. */
  text: string;
  amendedTo: string | null;
  /** Words and place of the entry it rests on. */
  entry: string | null;
  /** Who wrote it down here, and why. */
  by: string;
  fault: string | null;
}>;

/** Decisions about one rule in the order in which they were given. */
export function dispositionsOf(
  { dispositions }: Reconstruction,
  ruleId: string,
): readonly DispositionView[] {
  return dispositions
    .filter(({ rule }) => rule === ruleId)
    .map((one, index) => ({
      key: `${one.rule}-${index}`,
      text: decisionText(one),
      amendedTo: one.amendedTo,
      entry: entryText(one),
      by: [one.by === null ? '' : `Written down by ${one.by}`, one.reason ?? '']
        .filter((part) => part !== '')
        .join(': '),
      fault: one.fault,
    }));
}

function decisionText({
  disposition,
  givenBy,
  atS,
}: Pick<RuleDisposition, 'disposition' | 'givenBy' | 'atS'>): string {
  const who = givenBy === null ? '' : ` by ${givenBy}`;
  const when = atS === null ? '' : ` at ${formatSessionTime(atS)}`;
  return `${disposition}${who}${when}`;
}

function entryText({ entry, entryWords }: DispositionResult): string | null {
  if (entry === null) return null;
  const place = placeText(entry) ?? '';
  return entryWords === null ? place : `“${entryWords}” ${place}`;
}

export type DispositionList = Readonly<{
  rows: readonly CorrectionRow[];
  /** Decisions whose rule is not in the rule file: they stand beside no row. */
  astray: readonly string[];
}>;

/** All decisions: those that came with the folder, then those made here, the undone ones too. */
export function dispositionList(
  reconstruction: Reconstruction,
  kept: readonly KeptWord<RuleDisposition>[],
): DispositionList {
  const known = new Set(reconstruction.ruleSet.map(({ id }) => id));
  return {
    rows: kept.map((one) => keptRow(one, whatText(one.correction))),
    astray: reconstruction.dispositions
      .filter(({ rule }) => !known.has(rule))
      .map((one) => `${nameFromId(one.rule)}: ${decisionText(one)}`),
  };
}

function whatText(one: RuleDisposition): string {
  const place = one.entry === null ? '' : `, ${placeText(one.entry)}`;
  const words = one.amendedTo === null ? '' : `: ${one.amendedTo}`;
  return `${nameFromId(one.rule)} ${decisionText(one)}${place}${words}`;
}

/** Rules that can be decided about; those that are not met come first, for they ask for it. */
export function ruleChoices({ rules }: Reconstruction): readonly Readonly<{
  value: string;
  text: string;
}>[] {
  const asks = (verdict: string): number =>
    ['broken', 'undecided', 'not evaluated'].indexOf(verdict);
  const place = (verdict: string): number => (asks(verdict) < 0 ? 3 : asks(verdict));
  return [...rules]
    .sort((a, b) => place(a.verdict) - place(b.verdict))
    .map(({ id, verdict }) => ({ value: id, text: `${nameFromId(id)} (${verdict})` }));
}

/** Entries that a decision can rest on, as they are written in the form's field. */
export function entryChoices({ events }: Reconstruction): readonly Readonly<{
  value: string;
  text: string;
}>[] {
  return events
    .filter(({ event }) => event !== null)
    .slice(0, 500)
    .map((entry) => ({
      value: placeText(entry) ?? '',
      text: `${formatSessionTime(entry.timeS)} ${entry.text ?? entry.event ?? ''}`,
    }));
}

/** The form's fields as the command takes them, or what of them cannot be read. */
export function readDisposition(typed: Typed, session: EntryPlace): ReadForm {
  const fields: Record<string, string> = {};
  const time = (typed.atS ?? '').trim();
  const read = time === '' ? null : readTimeEntry(time, session);
  // A decision may come before or after what was recorded.
  const atS = read === null ? null : read.ok ? read.tS : parseSessionTime(time);
  if (read?.ok === false && atS === null) fields.atS = read.problem;
  const place = (typed.entry ?? '').trim();
  const found = /^(.+?),?\s+line\s+(\d{1,9})\b/i.exec(place);
  if (place !== '' && found === null) {
    fields.entry = `“${place.slice(0, 40)}” cannot be read. Expected FILE, line NUMBER, or nothing.`;
  }
  const { rule, disposition, givenBy = '', amendedTo = '', reason } = typed;
  if (disposition === 'waived' && amendedTo.trim() !== '')
    fields.amendedTo =
      'A rule that is waived holds no other words: choose amended, or leave this empty.';
  if (Object.keys(fields).length > 0) return { word: null, fields };
  const entry = found === null ? null : { source: found[1] ?? '', line: Number(found[2]) };
  const amended = amendedTo.trim() === '' ? null : amendedTo;
  return {
    word: { rule, disposition, givenBy, atS, entry, amendedTo: amended, reason },
    fields: null,
  };
}
