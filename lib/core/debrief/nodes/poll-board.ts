/** What was known at a poll or any instant: each rule's value, limit, room, trend and age. */
import { z } from 'zod';
import type { SourceUse } from '../../reconstruction/known-by';
import {
  type PollStanding,
  type RuleAtPoll,
  roomTrend,
  worstFirst,
} from '../../reconstruction/poll-state';
import type { Reconstruction } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { instantText, sessionTimeText } from '../../time/session-time-text';
import { LIVE_PLACED } from '../document';
import {
  findPoll,
  instantPlace,
  lastPollBeforeContact,
  MOST_POLLS,
  type PollPlace,
  type PollReference,
  pollReferenceSchema,
  pollsOf,
  referenceTo,
  type StatedPoll,
} from '../poll-place';
import { cell, keyRun, type ResolveContext, rowHeader, textRun } from '../resolve-context';
import type { NumberRun, TableCell, TableColumn, Tone } from '../resolved';
import { type BlockAttributes, defineBlock } from './block';
import { byHandNote, noteOf, tableUnder } from './captioned-table';

const LONGEST_CAPTION = 300;

const TONES: Readonly<Record<PollStanding, Tone>> = {
  inside: 'inside',
  beyond: 'beyond',
  'too close to call': 'unsure',
  open: 'plain',
  held: 'inside',
  broken: 'beyond',
  'not in force': 'plain',
  stale: 'unsure',
  'not known': 'unsure',
};

/** As much of what was said as a caption takes; no character is cut in two. */
function quoted(words: string): string {
  const letters = Array.from(words.replace(/\s+/g, ' ').trim());
  return letters.length <= 90 ? letters.join('') : `${letters.slice(0, 89).join('')}\u2026`;
}

function captionOf({ entry, atS }: PollPlace): string {
  if (entry === null) return `What was known at ${instantText(atS)}`;
  const words = quoted(entry.text ?? '');
  return words === ''
    ? 'What was known at the poll'
    : `What was known at the poll \u201c${words}\u201d`;
}

/**
 * The board moved to another instant; a caption that nobody reworded goes with it.
 *
 * @param attributes of the board as it stands
 * @param atS session time, s
 */
export function movedBoard(attributes: BlockAttributes, atS: number): BlockAttributes {
  const { at, caption } = attributes;
  const isOwn = typeof at !== 'number' || caption !== captionOf(instantPlace(at));
  const words = isOwn ? {} : { caption: captionOf(instantPlace(atS)) };
  return { at: atS, ...words, [LIVE_PLACED]: null };
}

/** An instant to begin with, where somebody wants another one: a minute before contact, or the end. */
function instantToBegin({ contact, session }: Reconstruction): number {
  const contactS = contact?.timeS.value ?? null;
  return Math.floor(contactS === null ? (session.durationS.value ?? 0) : contactS - 60);
}

/** Attributes of a board of an instant. */
export function pollBoardOf(place: PollPlace): BlockAttributes {
  return { at: referenceTo(place), caption: captionOf(place) };
}

/** What a row has no place for stays empty; a dash is a number that was not known. */
type Row = Readonly<{
  head: string;
  stood?: readonly [string, Tone];
  numbers: readonly (NumberRun | '' | null)[];
  note?: string;
}>;

function rowOf({ head, stood, numbers, note = '' }: Row): readonly TableCell[] {
  const [words, tone] = stood ?? ['', 'plain'];
  return [rowHeader(head), cell(words, tone), ...numbers.map((number) => cell(number)), cell(note)];
}

/** What the standing alone says, and the note under the table explains. */
const SAID_BELOW: readonly PollStanding[] = ['stale'];

const TREND_WORDS = { shrinks: 'The room shrinks.', grows: 'The room grows.', steady: '' } as const;

function ruleWords(rule: RuleAtPoll): string {
  if (SAID_BELOW.includes(rule.standing)) return '';
  const trend = roomTrend(rule);
  return rule.words === '' && trend !== null ? TREND_WORDS[trend] : rule.words;
}

/** The room carries its half-width; with those of the others beside it no place would be left for words. */
const BRIEF = { uncertainty: 'without' } as const;

function ruleRow(context: ResolveContext, { key }: PollPlace, rule: RuleAtPoll) {
  const at = `${key}.rules[${rule.id}]`;
  const { unit } = rule;
  const soFar = rule.soFar === 'broken' ? 'Broken so far.' : '';
  return rowOf({
    head: nameFromId(rule.id),
    stood: [rule.standing, TONES[rule.standing]],
    numbers: [
      keyRun(context, `${at}.value`, { unit, ...BRIEF }),
      keyRun(context, `${at}.limit`, { unit, ...BRIEF }),
      keyRun(context, `${at}.margin`, { unit, form: 'signed' }),
      keyRun(context, `${at}.trend`, { form: 'signed', ...BRIEF }),
      keyRun(context, `${at}.age_s`),
    ],
    note: noteOf(ruleWords(rule), soFar),
  });
}

function underWay({ state }: StatedPoll): string {
  if (state.touchedS !== null)
    return 'After first touch: rules about quantities are judged up to it.';
  if (state.step !== null) return `During ${nameFromId(state.step)}.`;
  return state.motion === null ? '' : `During an unplanned ${state.motion}.`;
}

/** What was asked, by whom, during what: the beginning of the note. */
function askedWords(poll: StatedPoll): string {
  const { entry } = poll.place;
  const by = entry?.speaker == null ? '' : `${entry.speaker}: `;
  const said = entry?.text == null ? '' : `${by}\u201c${entry.text}\u201d`;
  const unmoved = poll.state.rangeM === null ? 'No motion was known.' : '';
  return noteOf(said, underWay(poll), unmoved);
}

/** The instant and the motion: what stands above the rules. */
function headRows(context: ResolveContext, poll: StatedPoll): readonly (readonly TableCell[])[] {
  const { key, entry } = poll.place;
  const none = ['', '', ''] as const;
  const age = keyRun(context, `${key}.motion_age_s`);
  const moving = [
    { head: 'Motion: range', number: keyRun(context, `${key}.range_m`, BRIEF) },
    { head: 'Motion: closing rate', number: keyRun(context, `${key}.closing_rate_mps`, BRIEF) },
  ].flatMap(({ head, number }) =>
    number === null ? [] : [rowOf({ head, numbers: [number, ...none, age] })],
  );
  const time = keyRun(context, `${key}.time_s`, { form: 'time', digits: 1 });
  const head = entry === null ? 'Instant' : 'Poll';
  return [rowOf({ head, numbers: [time, ...none, ''] }), ...moving];
}

/** What the note says in full. */
const USE_WORDS: Readonly<Record<SourceUse['use'], string>> = {
  used: 'used',
  'arrived afterwards': 'afterwards',
  'nothing by then': 'nothing yet',
};

function rowsOf(context: ResolveContext, poll: StatedPoll): readonly (readonly TableCell[])[] {
  const { place, state } = poll;
  const none = ['', '', '', ''] as const;
  return [
    ...headRows(context, poll),
    ...worstFirst(state.rules).map((rule) => ruleRow(context, place, rule)),
    ...state.sources.map(({ file, use }) =>
      rowOf({
        head: file,
        stood: [USE_WORDS[use], use === 'used' ? 'plain' : 'unsure'],
        numbers: [...none, keyRun(context, `${place.key}.sources[${file}].age_s`)],
      }),
    ),
  ];
}

function lostWords(at: PollReference): string {
  if (typeof at === 'number') return '';
  const { source, words } = at;
  const which = words === '' ? '' : ` \u201c${quoted(words)}\u201d`;
  return textRun(`Poll board: ${source} no longer has the poll${which}.`).text;
}

const CUT =
  'real-time sources alone, as far as they had been received by then; what came or was said later changes nothing in it';

const COLUMNS: readonly TableColumn[] = [
  { label: 'What', align: 'start' },
  { label: 'Stood', align: 'start' },
  { label: 'Value', align: 'end' },
  { label: 'Limit', align: 'end' },
  { label: 'Room', align: 'end' },
  { label: 'Room, trend', align: 'end' },
  { label: 'Age', align: 'end' },
  { label: 'Says', align: 'start' },
];

/** A board of one instant; from real-time sources received by then alone. */
export const pollBoard = defineBlock(
  {
    /** The poll, by its entry of a log, or session time, s. */
    at: pollReferenceSchema,
    caption: z.string().max(LONGEST_CAPTION),
  },
  {
    name: 'pollBoard',
    label: 'Poll board',
    polls: ({ at }, reconstruction) => {
      const place = findPoll(reconstruction, at);
      return place === null ? [] : [place];
    },
    choices: ({ reconstruction }) => [
      ...pollsOf(reconstruction).map((place) => ({
        label: `${sessionTimeText(place.atS)} ${quoted(place.entry?.text ?? 'poll')}`,
        attributes: pollBoardOf(place),
      })),
      {
        label: 'Another instant, which is typed into the block',
        attributes: pollBoardOf(instantPlace(instantToBegin(reconstruction))),
      },
    ],
    draft: (section, { reconstruction }) => {
      const place = section === 'rules' ? lastPollBeforeContact(reconstruction) : null;
      return place === null ? [] : [pollBoardOf(place)];
    },
    resolve: ({ id, at, caption }, context) => {
      const { reconstruction, polls = [] } = context.material;
      const place = findPoll(reconstruction, at);
      if (place === null) return [{ kind: 'missing', id, message: lostWords(at) }];
      const poll = polls.find((each) => each.place.key === place.key);
      const time = sessionTimeText(place.atS, 1);
      if (poll === undefined) {
        const why =
          polls.length < MOST_POLLS
            ? 'could not be computed'
            : `was not computed: a debrief asks for ${MOST_POLLS} instants at most`;
        return [{ kind: 'missing', id, message: `Poll board: what was known at ${time} ${why}.` }];
      }
      const rows = rowsOf(context, poll);
      const isStale = poll.state.rules.some(({ standing }) => standing === 'stale');
      return [
        tableUnder(
          { id, caption },
          COLUMNS,
          rows,
          textRun(
            noteOf(
              askedWords(poll),
              `Known at ${time}: ${CUT}.`,
              ...poll.state.unknown,
              isStale ? 'Stale: the last value is too old to speak for the instant.' : '',
              byHandNote(rows),
            ),
          ).text,
        ),
      ];
    },
  },
);
