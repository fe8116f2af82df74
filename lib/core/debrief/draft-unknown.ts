/** What the data cannot say: everything not evaluated, not known or not measured, one line each. */

import { leadsAway } from '../phases/match-steps';
import { nameFromId } from '../session/name-from-id';
import { utcCaution } from '../time/utc-caution';
import { formatCount } from '../units/number-text';
import { type Phrase, valueNode } from './build-document';
import type { DebriefMaterial } from './debrief-material';

const FAULT_WORDS = {
  gap: 'No row',
  frozen: 'Frozen',
  saturated: 'Saturated',
  spike: 'A spike',
  step: 'A jump in position',
  duplicate: 'The same stamp again',
  out_of_order: 'Stamps out of order',
  held: 'Held values',
  left_out: 'Left out by hand',
  rate_disagrees: 'A rate against its position',
} as const;

/** Most faults that a draft spells out; the table has them all. */
const MOST_FAULTS = 8;

function sentenceEnd(text: string): string {
  return /[.!?]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`;
}

function asSentence(text: string): string {
  const ended = sentenceEnd(text);
  return `${ended.charAt(0).toUpperCase()}${ended.slice(1)}`;
}

function openRules({ reconstruction }: DebriefMaterial): readonly (readonly Phrase[])[] {
  return reconstruction.rules.flatMap((rule): (readonly Phrase[])[] => {
    const why = sentenceEnd(rule.explanation);
    if (rule.verdict === 'not evaluated')
      return [[`Rule “${nameFromId(rule.id)}” was not evaluated: ${why}`]];
    if (rule.verdict === 'undecided')
      return [[`Rule “${nameFromId(rule.id)}” is undecided: ${why}`]];
    return [];
  });
}

function gapsOfData({ reconstruction }: DebriefMaterial): readonly (readonly Phrase[])[] {
  const all = reconstruction.dataQuality
    .map((fault, index) => ({ fault, at: `data_quality[${index}]` }))
    .filter(
      ({ fault }) =>
        fault.kind === 'gap' ||
        fault.kind === 'frozen' ||
        fault.kind === 'saturated' ||
        fault.kind === 'step' ||
        fault.kind === 'left_out',
    );
  const lines = all.slice(0, MOST_FAULTS).map(({ fault, at }): readonly Phrase[] => {
    const what = fault.channel === null ? '' : `, channel ${fault.channel}`;
    return [
      `${FAULT_WORDS[fault.kind]} from `,
      valueNode(`${at}.start_s`, 'time'),
      ' to ',
      valueNode(`${at}.end_s`, 'time'),
      ` (${fault.source}${what}).`,
    ];
  });
  const more = all.length - lines.length;
  return more <= 0
    ? lines
    : [
        ...lines,
        [`${more} more such ${more === 1 ? 'stretch' : 'stretches'} in the table of faults.`],
      ];
}

function absentInputs({ reconstruction, plan, ruleSet }: DebriefMaterial): readonly string[] {
  const { contact, sources, ruleSet: rules } = reconstruction;
  const said: string[] = [];
  if (reconstruction.plan === null && plan === null)
    said.push('There is no plan: nothing could be held against one.');
  if (rules.length === 0 && ruleSet === null) said.push('There are no rules: none was evaluated.');
  if (!sources.some((source) => source.type === 'telemetry')) said.push('There is no telemetry.');
  if (!sources.some((source) => source.type === 'events'))
    said.push('There is no event or voice log.');
  const isSaid = reconstruction.notes.some(({ code }) => code === 'no-contact');
  if (contact === null && !isSaid && !leadsAway(reconstruction.plan))
    said.push('No contact was found, so there are no conditions at contact.');
  const rejected = sources.filter((source) => source.rowsRejected > 0);
  for (const source of rejected) {
    const rows = source.rowsRejected === 1 ? '1 row' : `${formatCount(source.rowsRejected)} rows`;
    said.push(
      `${rows} of ${source.file} could not be read and ${source.rowsRejected === 1 ? 'is' : 'are'} left out.`,
    );
  }
  return said;
}

/** One line for each thing that is open; empty where nothing is. */
export function unknownLines(material: DebriefMaterial): readonly (readonly Phrase[])[] {
  const { notes: noted, session } = material.reconstruction;
  const utc = utcCaution(session.zeroTaiNs, session.durationS.value);
  const notes = noted.map((note) => [asSentence(note.message)]);
  return [
    ...openRules(material),
    ...absentInputs(material).map((line) => [line]),
    ...gapsOfData(material),
    ...(utc === null ? [] : [[utc]]),
    ...notes,
  ];
}
