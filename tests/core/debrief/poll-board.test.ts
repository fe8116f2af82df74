import { describe, expect, test } from 'vitest';
import { checkDocument } from '@/lib/core/debrief/check-document';
import { compareRecords } from '@/lib/core/debrief/compare-records';
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { keyWords } from '@/lib/core/debrief/key-words';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { movedBoard } from '@/lib/core/debrief/nodes/poll-board';
import { polledInstants } from '@/lib/core/debrief/package/recompute-record';
import { holdsBlock, placeBlock } from '@/lib/core/debrief/place-block';
import { withPlaced } from '@/lib/core/debrief/placed';
import {
  findPoll,
  instantPlace,
  MOST_POLLS,
  pollsOf,
  referenceTo,
  sameInstants,
} from '@/lib/core/debrief/poll-place';
import { makeRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { openContext, resolveDocument } from '@/lib/core/debrief/resolve';
import type { TableBlock } from '@/lib/core/debrief/resolved';
import { touchedNumbers } from '@/lib/core/debrief/touched-numbers';
import type { PollState, RuleAtPoll } from '@/lib/core/reconstruction/poll-state';
import type { Reconstruction, SessionEvent } from '@/lib/core/reconstruction/reconstruction';
import { EVENTS, sampleFigure } from '../../support/sample-figure';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const poll = (timeS: number, line: number, text: string): SessionEvent => {
  return { timeS, endS: null, source: EVENTS.file, line, event: 'poll', text, speaker: 'DIRECTOR' };
};
const withEvents = (...events: readonly SessionEvent[]): Reconstruction => ({
  ...sampleReconstruction,
  events: [...sampleReconstruction.events, ...events].sort((a, b) => a.timeS - b.timeS),
});
const FIRST = poll(100, 40, 'Go or no go for the approach?');
const LAST = poll(640.25, 60, 'Go or no go for contact?');
const flown = withEvents(FIRST, LAST, poll(900, 80, 'Go or no go for the hatch?'));

const rule = (id: string, more: Partial<RuleAtPoll>): RuleAtPoll => {
  const none = { value: null, limit: null, margin: null, trendPerS: null, ageS: null };
  return { id, standing: 'inside', ...none, unit: 'm/s', soFar: null, words: '', ...more };
};
const STATE: PollState = {
  atS: 640.25,
  rangeM: sampleFigure(24.04, 'm', 0.05),
  closingMps: sampleFigure(0.2, 'm/s', 0.002),
  motionAgeS: sampleFigure(0.25, 's', null),
  touchedS: null,
  step: 'final',
  motion: 'approach',
  rules: [
    rule('corridor', { standing: 'not in force', words: 'It did not apply there.' }),
    rule('closing-rate', {
      standing: 'beyond',
      unit: 'ft/s',
      value: sampleFigure(0.4572, 'm/s', null),
      limit: sampleFigure(0.3048, 'm/s', null),
      margin: sampleFigure(-0.1524, 'm/s', null),
      trendPerS: sampleFigure(-0.004, 'm/s^2', 0.001),
      ageS: sampleFigure(0.25, 's', null),
      soFar: 'broken',
    }),
  ],
  sources: [
    { file: 'late.csv', type: 'telemetry', use: 'arrived afterwards', isStated: true, ageS: null },
  ],
  unknown: ['Arrived afterwards and not used: late.csv.'],
};

function materialOf(reconstruction: Reconstruction, state: PollState = STATE): DebriefMaterial {
  const polls = pollsOf(reconstruction).map((place) => ({ place, state }));
  return makeMaterial({ ...sampleMaterial, reconstruction, polls });
}
const material = materialOf(flown);
const board = (more: Readonly<Record<string, unknown>> = {}): DocNode => {
  const [, place] = pollsOf(flown);
  if (place === undefined) throw new Error('the session has polls');
  const attrs = { id: 'board', at: referenceTo(place), caption: 'Asked', ...more };
  return { type: 'pollBoard', attrs };
};
const docOf = (...content: DocNode[]): DocNode => ({ type: 'doc', content });
const resolved = (node: DocNode, of = material) =>
  resolveDocument(docOf(node), of, BUILT_IN_BLOCKS).blocks[0];
const tableOf = (node: DocNode, of = material): TableBlock => {
  const block = resolved(node, of);
  if (block?.kind !== 'table') throw new Error('a table is expected');
  return block;
};
const cellTexts = (table: TableBlock) =>
  table.rows.map((row) => row.map(({ runs }) => runs.map((run) => 'text' in run && run.text)));
const SEAL = { number: 1, revision: 1, title: 'T', publishedBy: 'N', previousSha256: null };
const sealedOf = (doc: DocNode, of: DebriefMaterial): SealedRecord =>
  sealRecord(
    makeRecord(resolveDocument(doc, of, BUILT_IN_BLOCKS), of, { ...SEAL, publishedAtIso: '' }),
  );

describe('the poll that a board names', () => {
  const at = referenceTo({ key: '', atS: 640.25, entry: LAST });

  test('is found where its clock puts it now, and on another line by its words', () => {
    expect(findPoll(withEvents({ ...LAST, timeS: 641 }), at)?.atS).toBe(641);
    expect(findPoll(withEvents(FIRST, { ...LAST, line: 61 }), at)).toMatchObject({
      atS: 640.25,
      key: `polls[${EVENTS.file}:61]`,
    });
  });

  test('is not taken for another: not with other words, not of two alike elsewhere', () => {
    expect(findPoll(withEvents({ ...LAST, text: 'Once more?' }), at)).toBeNull();
    expect(findPoll(withEvents({ ...LAST, event: 'go' }), at)).toBeNull();
    expect(findPoll(withEvents({ ...LAST, line: 61 }, { ...LAST, line: 62 }), at)).toBeNull();
  });

  test('that is gone, or was not computed, stops publishing with a sentence', () => {
    const gone = materialOf(withEvents(FIRST));
    expect(checkDocument(docOf(board()), gone, BUILT_IN_BLOCKS)).toContainEqual({
      gravity: 'stops',
      blockId: 'board',
      message: expect.stringContaining(
        `${EVENTS.file} no longer has the poll “Go or no go for contact?”.`,
      ),
    });
    const open = makeMaterial({ ...sampleMaterial, reconstruction: flown });
    expect(resolved(board(), open)).toMatchObject({
      kind: 'missing',
      message: 'Poll board: what was known at 00:10:40.3 could not be computed.',
    });
    const places = Array.from({ length: MOST_POLLS }, (_, atS) => instantPlace(atS));
    const full = { ...open, polls: places.map((place) => ({ place, state: STATE })) };
    expect(resolved(board(), full)).toMatchObject({
      message: `Poll board: what was known at 00:10:40.3 was not computed: a debrief asks for ${MOST_POLLS} instants at most.`,
    });
  });

  test('keeps its older key where a newer reconstruction has it on another line', () => {
    const newer = withEvents(FIRST, { ...LAST, line: 61, timeS: 640.5 });
    expect(sameInstants(pollsOf(flown).slice(1, 2), flown, newer)).toMatchObject([
      { key: `polls[${EVENTS.file}:60]`, atS: 640.5 },
    ]);
  });
});

/** A foot is 0.3048 m exactly: NIST Special Publication 811 (2008), appendix B.8. */
test('a board has the worst rule first, in the unit it was written in, with raw doubles', () => {
  const table = tableOf(board());
  expect(cellTexts(table).map(([head]) => head?.[0])).toEqual([
    'Poll',
    'Motion: range',
    'Motion: closing rate',
    'Closing rate',
    'Corridor',
    'late.csv',
  ]);
  const row = table.rows[3]?.map(({ runs }) => runs[0]);
  expect(
    row?.map((run) => (run?.kind === 'break' ? '' : run?.text.replaceAll('\u00a0', ' '))),
  ).toEqual([
    'Closing rate',
    'beyond',
    '1.500 ft/s',
    '1.000 ft/s',
    '−0.500 ft/s',
    '−0.0040 m/s²',
    '0.3 s',
    'The room shrinks. Broken so far.',
  ]);
  expect(row?.[4]).toMatchObject({
    kind: 'number',
    value: -0.1524,
    unit: 'm/s',
    key: `polls[${EVENTS.file}:60].rules[closing-rate].margin`,
  });
  expect(table.note).toContain('Arrived afterwards and not used: late.csv.');
});

test('a draft has one board, of the last poll before contact; none without polls', () => {
  const boards = (of: DebriefMaterial) =>
    (draftDebrief(of, BUILT_IN_BLOCKS, countingIds()).content ?? []).filter(
      ({ type }) => type === 'pollBoard',
    );
  expect(boards(material).map(({ attrs }) => attrs?.at)).toEqual([
    { source: EVENTS.file, line: 60, words: LAST.text },
  ]);
  expect(boards(sampleMaterial)).toEqual([]);
});

test('a board keeps what it showed, is told once it shows something else, and not while it is open', () => {
  const placed = withPlaced(docOf(board()), openContext(material), BUILT_IN_BLOCKS);
  const moved = materialOf(flown, { ...STATE, rangeM: sampleFigure(24.31, 'm', 0.05) });
  const said = (doc: DocNode, of: DebriefMaterial) =>
    checkDocument(doc, of, BUILT_IN_BLOCKS).filter(({ message }) => message.includes('placed'));
  expect(said(placed, material)).toEqual([]);
  expect(said(placed, moved)).toMatchObject([{ gravity: 'look', blockId: 'board' }]);
  const open = makeMaterial({ ...sampleMaterial, reconstruction: flown });
  expect(withPlaced(docOf(board()), openContext(open), BUILT_IN_BLOCKS)).toEqual(docOf(board()));
  expect(said(placed, open)).toEqual([]);
});

test('a caption that nobody reworded goes along where another instant is typed', () => {
  expect(movedBoard({ at: 60, caption: 'What was known at 00:01:00' }, 90.5)).toEqual({
    at: 90.5,
    caption: 'What was known at 00:01:30.5',
    placed: null,
  });
  expect(movedBoard({ at: 60, caption: 'Before the go' }, 90)).toEqual({
    at: 90,
    placed: null,
  });
});

describe('the record of a board', () => {
  const moved = materialOf(flown, { ...STATE, rangeM: sampleFigure(24.31, 'm', 0.05) });
  const doc = docOf(board());

  test('names the instants from which its numbers can be computed again', () => {
    const timed = docOf(board(), board({ id: 'timed', at: -12.5 }));
    const of = makeMaterial({
      ...material,
      polls: [
        ...(material.polls ?? []),
        { place: { key: 'polls[-12.5]', atS: -12.5, entry: null }, state: STATE },
      ],
    });
    const { record } = sealedOf(timed, of);
    expect(polledInstants(record, flown).map(({ atS }) => atS)).toEqual([640.25, -12.5]);
  });

  test('shows what changed between revisions and since, number by number', () => {
    const [before, after] = [sealedOf(doc, material), sealedOf(doc, moved)];
    const what = `State at ${EVENTS.file}:60: range`;
    expect(keyWords(`polls[${EVENTS.file}:60].rules[corridor].age_s`)).toBe(
      `State at ${EVENTS.file}:60, Corridor: age`,
    );
    expect(keyWords('polls[-12.5].range_m')).toBe('State at \u221200:00:12.5: range');
    expect(compareRecords(before.record, after.record)[0]?.changes).toMatchObject([
      { kind: 'number', what },
    ]);
    expect(touchedNumbers(before.record.blocks, moved.figures)).toMatchObject([
      { key: `polls[${EVENTS.file}:60].range_m`, now: '24.31\u00a0m' },
    ]);
  });
});

test('hostile words of a poll and names of its files come out as text in every format', () => {
  const words = '</script><img src=x onerror=alert(1)> \u202egpj.exe #read("x") | a\u0000b \ud800';
  const file = 'x].csv|<b>';
  const entry = { ...LAST, text: words, source: file, speaker: '<i>D</i>' };
  const hostile = withEvents(entry);
  const state = {
    ...STATE,
    sources: [{ ...STATE.sources[0], file } as PollState['sources'][number]],
    unknown: [`Arrived afterwards and not used: ${file}.`],
  };
  const of = materialOf(hostile, state);
  const drafted = draftDebrief(of, BUILT_IN_BLOCKS, countingIds());
  const one = drafted.content?.find(({ type }) => type === 'pollBoard');
  if (one === undefined) throw new Error('a board is drafted');
  const sealed = sealedOf(docOf(one), of);
  expect(polledInstants(sealed.record, hostile).map(({ atS }) => atS)).toEqual([640.25]);
  const html = renderHtml(sealed, []);
  expect(html).not.toMatch(/<img|<i>|<b>|[\u202a-\u202e]|\u0000/);
  expect(html).toContain('&lt;img src=x onerror=alert(1)&gt; [U+202E]gpj.exe');
  const markdown = [...renderMarkdown(sealed).values()][0] ?? '';
  expect(markdown).not.toMatch(/(?<!\\)<img|[\u202a-\u202e]|\u0000/);
  const docx = String(renderDocx(sealed).get('word/document.xml'));
  expect(docx).not.toMatch(/<img|<i>|[\u202a-\u202e]|\u0000/);
  expect(docx).toContain('&lt;img src=x');
});

test('a block that is sent stands at the end of its section, and not twice', () => {
  const heading = (id: string, words: string): DocNode => {
    return { type: 'heading', attrs: { id, level: 1 }, content: [{ type: 'text', text: words }] };
  };
  const doc = docOf(heading('a', 'Rules'), heading('b', 'Contact'));
  const { doc: sent, under } = placeBlock(doc, board(), { id: 'rules', title: 'Rules' });
  expect(under).toBe('Rules');
  expect(sent.content?.map(({ attrs }) => attrs?.id)).toEqual(['a', 'board', 'b']);
  const last = placeBlock(doc, board(), { id: 'gone', title: 'Gone' });
  expect([last.under, last.doc.content?.at(-1)?.attrs?.id]).toEqual([null, 'board']);
  const renamed = { ...heading('a', 'How we kept to them'), attrs: { level: 1, section: 'rules' } };
  const found = placeBlock(docOf(renamed, ...(doc.content ?? [])), board(), {
    id: 'rules',
    title: 'Rules',
  });
  expect([found.under, found.doc.content?.[1]?.attrs?.id]).toEqual([
    'How we kept to them',
    'board',
  ]);
  expect(holdsBlock(sent, board({ id: 'other', caption: 'Else' }))).toBe(true);
  expect(holdsBlock(sent, board({ at: 3 }))).toBe(false);
});
