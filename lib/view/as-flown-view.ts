/** The as-flown sequence as a table, and as lines of a comma-separated file. */
import { halfWidth95 } from '../core/figure';
import { sequencePlaceS } from '../core/reconstruction/as-flown';
import type {
  Reconstruction,
  SequenceItem,
  SessionEvent,
} from '../core/reconstruction/reconstruction';
import { csvTextCell } from './csv-cell';
import { EVIDENCE_WORDS, placeText, type SeenView, seenView } from './evidence-words';
import { type FigureView, figureViewOrNull } from './figure-view';
import { formatSessionTime } from './format-time';

export type SequenceRow = Readonly<{
  key: string;
  kind: SequenceItem['kind'] | 'said';
  what: string;
  flown: FigureView | null;
  /** What stands where there is no instant: not seen, or why it is not known. */
  absent: string;
  planned: FigureView | null;
  difference: FigureView | null;
  /** Kind of the evidence that `flown` rests on. */
  shownBy: string;
  words: string | null;
  place: string | null;
  /** Further evidence of the same. */
  beside: readonly SeenView[];
  note: string | null;
}>;

export type SequenceView = Readonly<{
  rows: readonly SequenceRow[];
  /** Spoken lines that are no event; counted where they are not shown. */
  saidCount: number;
}>;

/**
 * The sequence, in the order flown.
 *
 * @param said whether everything that was said stands between the events
 */
export function sequenceView(
  reconstruction: Reconstruction,
  said: 'events' | 'all',
  sessionId: string,
): SequenceView {
  const spoken = spokenLines(reconstruction);
  const rows = reconstruction.sequence.map((item) => itemRow(item, sessionId));
  if (said === 'events') return { rows, saidCount: spoken.length };
  const all = [
    ...reconstruction.sequence.map((item, index) => ({
      atS: sequencePlaceS(item),
      row: rows[index],
    })),
    ...spoken.map((line) => ({ atS: line.timeS, row: spokenRow(line) })),
  ].sort((a, b) => a.atS - b.atS);
  return { rows: all.flatMap(({ row }) => row ?? []), saidCount: spoken.length };
}

/** Lines of the logs that stand in no row of the sequence. */
function spokenLines({ sequence, events }: Reconstruction): readonly SessionEvent[] {
  const used = new Set(
    sequence.flatMap(({ seen }) => seen.map(({ source, line }) => `${source}\n${line}`)),
  );
  return events.filter((line) => line.event === null && !used.has(`${line.source}\n${line.line}`));
}

function itemRow(item: SequenceItem, sessionId: string): SequenceRow {
  const [first, ...more] = item.seen;
  const options = (what: string) => ({ sessionId, label: `${item.what}, ${what}` });
  const logged = item.seen.find(({ kind }) => kind === 'written' || kind === 'voice');
  return {
    key: item.key,
    kind: item.kind,
    what: item.what,
    flown: figureViewOrNull(first?.timeS ?? null, { ...options('flown'), form: 'time' }),
    planned: figureViewOrNull(item.plannedS, { ...options('planned'), form: 'time' }),
    difference: figureViewOrNull(item.differenceS, {
      ...options('flown less planned'),
      form: 'signed-duration',
    }),
    absent: absentText(item),
    shownBy: first === undefined ? '' : EVIDENCE_WORDS[first.kind],
    words: logged?.words ?? null,
    place: logged === undefined ? null : placeText(logged),
    beside: more.map((seen) => seenView(seen, item.what, sessionId)),
    note: item.note,
  };
}

/** Nothing that could have shown it is no sign that it did not happen. */
function absentText({ notKnown }: SequenceItem): string {
  return notKnown === undefined ? 'not seen' : `not known: ${notKnown}`;
}

/** The note with what stands for an absent instant, as one cell of a file has it. */
function noteText(item: SequenceItem): string {
  if (item.seen.length > 0) return item.note ?? '';
  if (item.notKnown === undefined) return item.note ?? absentText(item);
  return [absentText(item), item.note].filter((part) => part !== null).join('; ');
}

function spokenRow(line: SessionEvent): SequenceRow {
  return {
    key: `said-${line.source}-${line.line}`,
    kind: 'said',
    what: formatSessionTime(line.timeS),
    flown: null,
    absent: '',
    planned: null,
    difference: null,
    shownBy: EVIDENCE_WORDS.voice,
    words: lineWords(line),
    place: placeText(line),
    beside: [],
    note: null,
  };
}

function lineWords({ speaker, text }: SessionEvent): string {
  return speaker === null || speaker === '' ? (text ?? '') : `${speaker}: ${text ?? ''}`;
}

const HEADER = [
  'session_time_s',
  'half_width_s',
  'session_time',
  'kind',
  'what',
  'evidence',
  'planned_s',
  'difference_s',
  'difference_half_width_s',
  'words',
  'place',
  'further_evidence',
  'note',
].join(',');

const number = (value: number | null | undefined): string =>
  value == null ? '' : String(Math.round(value * 1000) / 1000);

function itemLine(item: SequenceItem): string {
  const [first, ...more] = item.seen;
  const logged = item.seen.find(({ kind }) => kind === 'written' || kind === 'voice');
  const { differenceS } = item;
  const further = more.map((seen) => {
    const place = placeText(seen);
    const where = place === null ? '' : ` (${place})`;
    return `${EVIDENCE_WORDS[seen.kind]} ${number(seen.timeS.value)} s${where}`;
  });
  return [
    number(first?.timeS.value),
    number(first === undefined ? null : halfWidth95(first.timeS)),
    first?.timeS.value == null ? '' : formatSessionTime(first.timeS.value),
    item.kind,
    csvTextCell(item.what),
    first === undefined ? '' : EVIDENCE_WORDS[first.kind],
    number(item.plannedS?.value),
    number(differenceS?.value),
    number(differenceS === null ? null : halfWidth95(differenceS)),
    csvTextCell(logged?.words ?? ''),
    csvTextCell((logged === undefined ? null : placeText(logged)) ?? ''),
    csvTextCell(further.join('; ')),
    csvTextCell(noteText(item)),
  ].join(',');
}

function saidLine(line: SessionEvent): string {
  return [
    number(line.timeS),
    '',
    csvTextCell(formatSessionTime(line.timeS)),
    'said',
    '',
    EVIDENCE_WORDS.voice,
    '',
    '',
    '',
    csvTextCell(lineWords(line)),
    csvTextCell(placeText(line) ?? ''),
    '',
    '',
  ].join(',');
}

/** The whole sequence, what was said included, in the order flown. Times in seconds. */
export function* sequenceCsv(reconstruction: Reconstruction): Generator<string> {
  yield HEADER;
  const lines = [
    ...reconstruction.sequence.map((item) => ({
      atS: sequencePlaceS(item),
      text: () => itemLine(item),
    })),
    ...spokenLines(reconstruction).map((line) => ({ atS: line.timeS, text: () => saidLine(line) })),
  ].sort((a, b) => a.atS - b.atS);
  for (const line of lines) yield line.text();
}
