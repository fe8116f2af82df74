/**
 * The first look after an import: two pages, made by the program from the data at hand and marked
 * preliminary. It quotes and counts; what it leaves out for want of room it says.
 */
import type { RuleResult } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { sessionTimeText } from '../../time/session-time-text';
import { type Phrase, paragraph } from '../build-document';
import { cutWords } from '../cut-words';
import type { DebriefMaterial } from '../debrief-material';
import { breakOffSentences, durationSentence, unplannedSentence } from '../draft-course';
import { joinSentences } from '../draft-sentences';
import { contactSentence, contactStandingSentences, ruleCounts } from '../draft-summary';
import { CAPTURE_COLUMNS, captureRows } from '../nodes/capture-table';
import { SEQUENCE_COLUMNS, sequenceRow } from '../nodes/sequence-table';
import { openContext, resolveRuns } from '../resolve';
import { cell, keyRun, type ResolveContext, rowHeader, textRun } from '../resolve-context';
import type {
  ResolvedBlock,
  ResolvedDocument,
  Run,
  TableBlock,
  TableCell,
  TableColumn,
} from '../resolved';
import { decidedVerdict } from '../rule-decisions';
import { navigationLines } from './quick-navigation';
import { chosenSequence } from './quick-sequence';
import { nearestWords } from './quick-words';

/** Most lines of each part, so that all of it stands on two pages; our own choice, held by a journey. */
const MOST = {
  rules: 8,
  exceedances: 6,
  stages: 6,
  words: 7,
  sequence: 14,
  navigation: 5,
  open: 6,
};

type Part = Readonly<{ id: string; title: string; blocks: readonly ResolvedBlock[] }>;
type Rows = readonly (readonly TableCell[])[];

function words(id: string, runs: readonly Run[]): ResolvedBlock {
  return { kind: 'paragraph', id, runs };
}

function said(id: string, phrases: readonly Phrase[], context: ResolveContext): ResolvedBlock {
  return words(id, resolveRuns(paragraph(id, phrases), context));
}

/** `2 more, of 10 in all, stand on the page of the session.`; empty where nothing was left out. */
function leftOut(shown: number, all: number): string {
  return all <= shown ? '' : `${shown} of ${all} are shown; all are in the session.`;
}

function table(id: string, columns: readonly TableColumn[], rows: Rows, most: number): TableBlock {
  const shown = rows.slice(0, most);
  const note = leftOut(shown.length, rows.length);
  return { kind: 'table', id, number: null, caption: '', columns, rows: shown, note };
}

function list(
  id: string,
  lines: readonly (readonly Run[])[],
  most: number,
): readonly ResolvedBlock[] {
  const items = lines
    .slice(0, most)
    .map((runs, index): readonly ResolvedBlock[] => [words(`${id}-${index + 1}`, runs)]);
  const note = leftOut(items.length, lines.length);
  const more = note === '' ? [] : [words(`${id}-more`, [textRun(note)])];
  return [{ kind: 'list', id, ordered: false, items }, ...more];
}

function contactPart(material: DebriefMaterial, context: ResolveContext): Part {
  const phrases = joinSentences([
    contactSentence(material),
    ...contactStandingSentences(material),
    durationSentence(material),
    ...breakOffSentences(material),
    unplannedSentence(material),
  ]);
  return { id: 'contact', title: 'Contact', blocks: [said('contact-words', phrases, context)] };
}

/** A row whose words are cut to what a narrow column holds; numbers stay whole. */
function shortened(row: readonly TableCell[]): readonly TableCell[] {
  const cut = (run: Run): Run =>
    run.kind === 'text' ? { ...run, text: cutWords(run.text, 60) } : run;
  return row.map((each) => ({ ...each, runs: each.runs.map(cut) }));
}

function capturePart({ reconstruction }: DebriefMaterial, context: ResolveContext): Part {
  const rows = captureRows(context);
  const none = 'Nothing in the data tells of capture.';
  const blocks =
    reconstruction.capture === null || rows.length === 0
      ? [words('capture-words', [textRun(none)])]
      : [table('capture-table', CAPTURE_COLUMNS, rows.map(shortened), MOST.stages)];
  return { id: 'capture', title: 'Capture', blocks };
}

const IN_QUESTION: readonly RuleResult['verdict'][] = ['broken', 'undecided', 'not evaluated'];

function ruleRow(rule: RuleResult, context: ResolveContext): readonly TableCell[] {
  const at = `rules[${rule.id}]`;
  const tone = rule.verdict === 'broken' ? 'beyond' : 'unsure';
  return [
    rowHeader(cutWords(nameFromId(rule.id), 40)),
    cell(decidedVerdict(context.material, rule), tone),
    cell(keyRun(context, `${at}.margin`, { form: 'signed' })),
    cell(keyRun(context, `${at}.time_s`, { form: 'time', digits: 1, uncertainty: 'without' })),
    cell(cutWords(rule.explanation)),
  ];
}

function rulesPart(material: DebriefMaterial, context: ResolveContext): Part {
  const rules = material.reconstruction.rules
    .filter(({ verdict }) => IN_QUESTION.includes(verdict))
    .sort((a, b) => IN_QUESTION.indexOf(a.verdict) - IN_QUESTION.indexOf(b.verdict));
  const columns: readonly TableColumn[] = [
    { label: 'Rule', align: 'start' },
    { label: 'Verdict', align: 'start' },
    { label: 'Margin', align: 'end' },
    { label: 'Decided at', align: 'end' },
    { label: 'Why', align: 'start' },
  ];
  const rows = rules.map((rule) => ruleRow(rule, context));
  const counts = said('rules-words', joinSentences([ruleCounts(material)]), context);
  const blocks =
    rows.length === 0 ? [counts] : [counts, table('rules-table', columns, rows, MOST.rules)];
  return { id: 'rules', title: 'Rules in question', blocks };
}

function exceedancePart({ reconstruction }: DebriefMaterial, context: ResolveContext): Part {
  const rows = reconstruction.exceedances.map(({ rule }, index) => {
    const at = `exceedances[${index}]`;
    const time = { form: 'time', digits: 1, uncertainty: 'without' } as const;
    return [
      rowHeader(cutWords(nameFromId(rule), 40)),
      cell(keyRun(context, `${at}.start_s`, time)),
      cell(keyRun(context, `${at}.duration_s`)),
      cell(keyRun(context, `${at}.worst`), 'beyond'),
      cell(keyRun(context, `${at}.limit`)),
    ];
  });
  const columns: readonly TableColumn[] = [
    { label: 'Rule', align: 'start' },
    { label: 'Start', align: 'end' },
    { label: 'Duration', align: 'end' },
    { label: 'Worst', align: 'end' },
    { label: 'Limit there', align: 'end' },
  ];
  const none = 'No stretch beyond a limit was found.';
  const blocks =
    rows.length === 0
      ? [words('exceedances-words', [textRun(none)])]
      : [table('exceedances-table', columns, rows, MOST.exceedances)];
  return { id: 'exceedances', title: 'Beyond a limit', blocks };
}

function wordsPart({ reconstruction }: DebriefMaterial): Part {
  const { lines, spoken } = nearestWords(reconstruction, MOST.words);
  const rows = lines.map(({ timeS, speaker, text }) => [
    rowHeader(sessionTimeText(timeS, 0)),
    cell(cutWords(speaker ?? '', 24)),
    cell(cutWords(text ?? '', 100)),
  ]);
  const columns: readonly TableColumn[] = [
    { label: 'Time', align: 'start' },
    { label: 'Who', align: 'start' },
    { label: 'Words', align: 'start' },
  ];
  const shown = table('words-table', columns, rows, MOST.words);
  const note =
    spoken > rows.length
      ? `The ${rows.length} of ${spoken} spoken lines nearest to contact and to what is in question, as they stand in the log.`
      : 'As they stand in the log.';
  const none = 'No log of the voice loop is there.';
  const blocks = rows.length === 0 ? [words('words-none', [textRun(none)])] : [{ ...shown, note }];
  return { id: 'words', title: 'The crew\u2019s words', blocks };
}

function sequencePart({ reconstruction }: DebriefMaterial, context: ResolveContext): Part {
  const { sequence } = reconstruction;
  const rows = chosenSequence(sequence, MOST.sequence).map((item) =>
    sequenceRow(context, { ...item, what: cutWords(item.what, 60) }),
  );
  const shown = table('sequence-table', SEQUENCE_COLUMNS, rows, MOST.sequence);
  const blocks: readonly ResolvedBlock[] =
    rows.length === 0
      ? [words('sequence-words', [textRun('Nothing was seen that could be put in order.')])]
      : [{ ...shown, note: leftOut(rows.length, sequence.length) }];
  return { id: 'sequence', title: 'Sequence as flown', blocks };
}

function navigationPart({ reconstruction }: DebriefMaterial, context: ResolveContext): Part {
  const lines = navigationLines(reconstruction.navigation, context);
  return {
    id: 'navigation',
    title: 'Navigation',
    blocks: list('navigation-list', lines, MOST.navigation),
  };
}

/** Sources still to come first, then what contradicts itself, then what was not computed. */
function openPart({ reconstruction }: DebriefMaterial): Part {
  const awaited = reconstruction.notes.filter(({ code }) => code === 'source-awaited');
  const rest = reconstruction.notes.filter(({ code }) => code !== 'source-awaited');
  const grave = [...rest].sort(
    (a, b) => Number(b.severity === 'warning') - Number(a.severity === 'warning'),
  );
  const first = awaited.length === 0 ? ['No source is marked as awaited.'] : [];
  const lines = [...first, ...[...awaited, ...grave].map(({ message }) => cutWords(message, 150))];
  const runs = lines.map((line) => [textRun(line)]);
  return {
    id: 'open',
    title: 'Data awaited, and not known',
    blocks: list('open-list', runs, MOST.open),
  };
}

/**
 * The quick look as a resolved document.
 *
 * @param material reconstruction with its figures; no samples are needed
 * @returns headings without numbers, tables without captions; each number with its evidence
 */
export function quickLook(material: DebriefMaterial): ResolvedDocument {
  const context = openContext(material);
  const parts = [
    contactPart(material, context),
    capturePart(material, context),
    rulesPart(material, context),
    exceedancePart(material, context),
    wordsPart(material),
    sequencePart(material, context),
    navigationPart(material, context),
    openPart(material),
  ];
  const blocks = parts.flatMap(({ id, title, blocks: inside }): readonly ResolvedBlock[] => [
    { kind: 'heading', id: `quick-${id}`, level: 1, number: '', runs: [textRun(title)] },
    ...inside,
  ]);
  return { blocks, evidence: context.book.evidence(), sources: context.book.sources() };
}
