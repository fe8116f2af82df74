/** What a replaced file or a correction changed: figures by how much, and the published sentences that quote them. */
import { unitForKey } from '../core/debrief/debrief-material';
import { figureText } from '../core/debrief/figure-text';
import type { TouchedNumber } from '../core/debrief/touched-numbers';
import { figureLabel, formForKey } from '../core/debrief/value-choices';
import type { Figure } from '../core/figure';
import type { Changes, FigureChange } from '../core/reconstruction/changed-figures';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import type { InputKind } from '../core/session/file-identity';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { type PlacesView, placesView } from './changed-places';
import { stampText } from './format-date';
import { plural } from './format-number';

export type ChangeRow = Readonly<{
  key: string;
  name: string;
  before: string;
  after: string;
  difference: string;
  /** The difference beside the half-width of before; empty where that is not known. */
  size: string;
  /** True where it is more than the half-width: beyond what the uncertainty explains. */
  isBeyond: boolean;
}>;

export type TouchedView = Readonly<{
  key: string;
  title: string;
  href: string;
  /** One row a sentence, with every number in it that reads otherwise now. */
  rows: readonly Readonly<{
    rowKey: string;
    sentence: string;
    numbers: readonly Readonly<{ key: string; published: string; now: string }>[];
  }>[];
  /** Said of what is not listed. */
  note: string | null;
}>;

export type ChangesView = Readonly<{
  summary: string;
  files: readonly string[];
  /** Versions of plan and rules that were put in use, each with who, why and where to compare them. */
  versions: readonly Readonly<{ key: string; text: string; href: string | null }>[];
  /** Rules that are judged otherwise. */
  verdicts: readonly Readonly<{ key: string; rule: string; before: string; after: string }>[];
  /** Figures that moved beyond their own half-width, or that read otherwise where it is not known. */
  rows: readonly ChangeRow[];
  /** The others, whose change their uncertainty explains or their digits do not show. */
  within: readonly ChangeRow[];
  /** Phases, exceedances, callouts, faults and log entries of one of the two only. */
  appeared: PlacesView;
  gone: PlacesView;
  publications: readonly TouchedView[];
}>;

/** What is held against each other; as `loadChanges` gives it. */
export type ChangesInput = Readonly<{
  cause: 'inputs' | 'engine';
  computedAtIso: string;
  files: readonly Readonly<{ file: string; number: number }>[];
  versions: readonly Readonly<{
    kind: InputKind;
    entryId: string | null;
    title: string;
    from: number | null;
    to: number | null;
    author: string;
    reason: string;
    atIso: string;
  }>[];
  before: Reconstruction;
  after: Reconstruction;
  changes: Changes;
  publications: readonly Readonly<{
    number: number;
    revision: number;
    title: string;
    numbers: readonly TouchedNumber[] | null;
  }>[];
}>;

function text(key: string, figure: Figure | null, reconstruction: Reconstruction): string {
  if (figure === null) return 'not there';
  return figureText(figure, { form: formForKey(key), unit: unitForKey(reconstruction, key) });
}

function differenceText(
  { before, after, key, difference }: FigureChange,
  r: Reconstruction,
): string {
  if (difference === null || before === null || after === null) return '';
  const unit = unitForKey(r, key);
  return figureText(
    { ...after, value: difference },
    { form: 'signed', unit, uncertainty: 'without' },
  );
}

function changeRow(change: FigureChange, { before, after }: ChangesInput): ChangeRow {
  const { key, halfWidths } = change;
  const reconstruction = change.after === null ? before : after;
  return {
    key,
    name: figureLabel(key, { reconstruction }),
    before: text(key, change.before, before),
    after: text(key, change.after, after),
    difference: differenceText(change, reconstruction),
    size: halfWidths === null ? '' : `${formatNumber(halfWidths, halfWidths < 10 ? 1 : 0)} ×`,
    isBeyond: halfWidths !== null && halfWidths > 1,
  };
}

/** Numbers of one sentence or table row together. */
function bySentence(numbers: readonly TouchedNumber[]): TouchedView['rows'] {
  const rows = new Map<string, TouchedNumber[]>();
  for (const each of numbers) {
    const rowKey = `${each.blockId} ${each.sentence}`;
    rows.set(rowKey, [...(rows.get(rowKey) ?? []), each]);
  }
  return [...rows].map(([rowKey, own]) => ({
    rowKey,
    sentence: own[0]?.sentence ?? '',
    numbers: own.map(({ key, published, now }) => ({ key, published, now: now ?? 'not there' })),
  }));
}

function touchedView({ number, revision, title, numbers }: ChangesInput['publications'][number]) {
  const seen = (numbers ?? []).filter(({ published, now }) => published !== now);
  const unseen = (numbers ?? []).length - seen.length;
  const rows = bySentence(seen);
  const note =
    numbers === null
      ? 'The stored record cannot be read, so it was not compared.'
      : numbers.length === 0
        ? 'No number in it differs.'
        : unseen > 0
          ? `${plural(unseen, 'number')} more differ only beyond the digits that are shown.`
          : null;
  return {
    key: `${number}/${revision}`,
    title: `Debrief ${number}, revision ${revision}: ${title}`,
    href: `/published/${number}/${revision}`,
    rows,
    note,
  };
}

function versionLine(use: ChangesInput['versions'][number]): ChangesView['versions'][number] {
  const { kind, entryId, title, from, to, author, reason, atIso } = use;
  const before = from === null ? '' : ` in place of version ${from}`;
  const number = to === null ? '' : `, version ${to}`;
  const isOne = entryId !== null && from !== null && to !== null && from !== to;
  return {
    key: `${kind} ${atIso}`,
    text: `${title}${number}${before}, put in use by ${author} on ${stampText(atIso)}: ${reason}.`,
    href: isOne ? `/plans/${kind}/${entryId}/compare?from=${from}&to=${to}` : null,
  };
}

const CAUSES: Readonly<Record<ChangesInput['cause'], string>> = {
  inputs: 'because a file was replaced, a correction was made or another version put in use',
  engine: 'by another version of the program',
};

/** Moved by less than its own half-width, or, where that is not known, by less than is written of it. */
function isWithin({ isBeyond, size, before, after }: ChangeRow): boolean {
  return size === '' ? before === after : !isBeyond;
}

/** Rows by the size of the change, the largest against its uncertainty first. */
export function changesView(input: ChangesInput): ChangesView {
  const { verdicts, figures, appeared, gone } = input.changes;
  const bySize = [...figures].sort((a, b) => (b.halfWidths ?? -1) - (a.halfWidths ?? -1));
  const rows = bySize.map((change) => changeRow(change, input));
  const when = stampText(input.computedAtIso);
  const counts = [
    ...(verdicts.length > 0
      ? [`${plural(verdicts.length, 'rule is', 'rules are')} judged otherwise`]
      : []),
    `${plural(bySize.length, 'figure')} changed`,
    ...(appeared.length > 0 ? [`${appeared.length} listed below appeared`] : []),
    ...(gone.length > 0 ? [plural(gone.length, 'is gone', 'are gone')] : []),
  ];
  return {
    summary: `Computed again on ${when} ${CAUSES[input.cause]}: ${counts.join(', ')}.`,
    files: input.files.map(({ file, number }) => `${file}, now version ${number}`),
    versions: input.versions.map(versionLine),
    verdicts: verdicts.map(({ rule, before, after }) => ({
      key: rule,
      rule: nameFromId(rule),
      before: before ?? 'not there',
      after: after ?? 'not there',
    })),
    rows: rows.filter((row) => !isWithin(row)),
    within: rows.filter(isWithin),
    appeared: placesView(appeared, input.after),
    gone: placesView(gone, input.before),
    publications: input.publications.map(touchedView),
  };
}
