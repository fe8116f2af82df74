/** A whole debrief in one action, from a reconstruction and its findings, for a person to edit. */

import { nameFromId } from '../session/name-from-id';
import { utcText } from '../time/session-time-text';
import {
  bulletList,
  heading,
  keyedHeading,
  type Phrase,
  paragraph,
  valueNode,
} from './build-document';
import { CAUTION } from './caution';
import type { DebriefMaterial } from './debrief-material';
import type { DocNode } from './document';
import { comparisonParagraphs } from './draft-comparison';
import {
  breakOffSentences,
  passedSentences,
  stepSentence,
  unplannedSentence,
} from './draft-course';
import { astrayLines, taskLines } from './draft-handling';
import type { DraftSection } from './draft-sections';
import { joinSentences } from './draft-sentences';
import {
  absenceSentences,
  contactSentence,
  contactStandingSentences,
  ruleCounts,
  summaryPhrases,
} from './draft-summary';
import { unknownLines } from './draft-unknown';
import type { BlockRegistry } from './nodes/block';
import type { DebriefTemplate, TemplateSection } from './template/template';

type Section = Readonly<{
  name: DraftSection;
  title: string;
  /** Text before the section's live blocks. */
  text: (material: DebriefMaterial, nextId: () => string) => readonly DocNode[];
  /** Why the section has nothing to say of this session; absent where it always has. */
  lacking?: (material: DebriefMaterial) => string | null;
}>;

function purposeText({ reconstruction, plan, ruleSet }: DebriefMaterial): readonly Phrase[] {
  const { session } = reconstruction;
  const planWords = plan === null ? 'without a plan' : `against the plan ${versioned(plan)}`;
  const ruleWords: readonly Phrase[] =
    ruleSet === null || reconstruction.rules.length === 0
      ? [' and without rules']
      : [
          plan === null ? ', against ' : ' and ',
          valueNode('counts.rules', 'word'),
          reconstruction.rules.length === 1 ? ' rule' : ' rules',
        ];
  const one = reconstruction.sources.length === 1;
  return [
    `This debrief reviews ${session.title}, a ${session.kind} whose session time starts at ${utcText(session.zeroUtc)}, ${planWords}`,
    ...ruleWords,
    '. It rests on ',
    valueNode('counts.sources', 'word'),
    one
      ? ' source file, named with its hash under Record.'
      : ' source files, named with their hashes under Record.',
  ];
}

function versioned(version: Readonly<{ title: string; number: number | null }>): string {
  const title = `\u201c${version.title}\u201d`;
  return version.number === null ? title : `${title}, version ${version.number},`;
}

const one = (nextId: () => string, phrases: readonly Phrase[]): readonly DocNode[] =>
  phrases.length === 0 ? [] : [paragraph(nextId(), phrases)];

function findingsText({ findings }: DebriefMaterial, nextId: () => string): readonly DocNode[] {
  const shown = findings.filter((finding) => finding.state !== 'withdrawn').length;
  return shown > 0 ? [] : one(nextId, ['No finding has been written for this session.']);
}

function dataText({ reconstruction }: DebriefMaterial, nextId: () => string): readonly DocNode[] {
  const fitted = reconstruction.sources.filter((source) => source.clock.tiePointsUsed > 0);
  const clocks = fitted.map((source): readonly Phrase[] => {
    const { tiePointsUsed: used, tiePointsRejected: left } = source.clock;
    const all = left === 0 ? `${used}` : `${used} of ${used + left}`;
    const points = used + left === 1 ? '1 tie point' : `${all} tie points`;
    return [
      `${source.file} was put onto session time by ${points}: offset `,
      valueNode(`sources[${source.file}].clock.offset_s`, 'signed'),
      source.clock.reason === null ? '.' : `. ${source.clock.reason}`,
    ];
  });
  const faults =
    reconstruction.dataQuality.length === 0 ? [['No fault was found in the data.']] : [];
  return one(nextId, joinSentences([...clocks, ...faults]));
}

/** Changes of the model are kept under the comparison, also where its runs have gone. */
function lackingRuns({ reconstruction, modelChanges = [] }: DebriefMaterial): string | null {
  const isChanged = modelChanges.some(({ removed }) => removed === 'standing');
  return reconstruction.comparison !== null || isChanged
    ? null
    : 'The flight was held against no simulator runs.';
}

const SECTIONS: readonly Section[] = [
  { name: 'purpose', title: 'Purpose', text: (m, nextId) => one(nextId, purposeText(m)) },
  { name: 'summary', title: 'Summary', text: (m, nextId) => one(nextId, summaryPhrases(m)) },
  {
    name: 'flown',
    title: 'What was flown',
    text: (m, nextId) =>
      one(
        nextId,
        joinSentences([...breakOffSentences(m), unplannedSentence(m), ...passedSentences(m)]),
      ),
  },
  {
    name: 'steps',
    title: 'Steps, planned and flown',
    text: (m, nextId) => one(nextId, joinSentences([stepSentence(m)])),
  },
  {
    name: 'rules',
    title: 'Rules and margins',
    text: (m, nextId) => one(nextId, joinSentences([ruleCounts(m), ...absenceSentences(m)])),
  },
  {
    name: 'contact',
    title: 'Contact and capture',
    text: (m, nextId) => [
      ...one(nextId, joinSentences([contactSentence(m), ...contactStandingSentences(m)])),
      ...captureText(m, nextId),
    ],
  },
  {
    name: 'comparison',
    title: 'Comparison with the simulator',
    text: (m, nextId) =>
      comparisonParagraphs(m).flatMap((sentences) => one(nextId, joinSentences(sentences))),
    lacking: lackingRuns,
  },
  {
    name: 'handling',
    title: 'Handling',
    text: (m, nextId) => [bulletList(nextId, [...taskLines(m), ...astrayLines(m)])],
    lacking: ({ reconstruction: { handling } }) =>
      handling.tasks.length + handling.astray.length > 0
        ? null
        : 'No task was flown by hand, as far as the session says.',
  },
  { name: 'findings', title: 'Findings', text: findingsText },
  { name: 'data', title: 'Data quality and clocks', text: dataText },
  {
    name: 'unknown',
    title: 'Not evaluated and not known',
    text: (m, nextId) => {
      const lines = unknownLines(m);
      return lines.length === 0
        ? one(nextId, ['Nothing was left open by the data.'])
        : [bulletList(nextId, lines)];
    },
  },
  { name: 'caution', title: 'Caution', text: (_, nextId) => one(nextId, [CAUTION]) },
];

/** What the program calls each of its sections. */
export const SECTION_TITLES: Readonly<Record<DraftSection, string>> = Object.fromEntries(
  SECTIONS.map(({ name, title }) => [name, title]),
) as Record<DraftSection, string>;

/** Entries of event columns from contact on: the capture as logged, none of it interpreted. */
function captureText(
  { reconstruction }: DebriefMaterial,
  nextId: () => string,
): readonly DocNode[] {
  const contactS = reconstruction.contact?.timeS.value ?? null;
  if (contactS === null) return [];
  const after = reconstruction.events.filter(
    (entry) => entry.event !== null && entry.timeS >= contactS - 1,
  );
  if (after.length === 0) return one(nextId, ['No event of the capture was logged.']);
  const shown = after
    .slice(0, 20)
    .map((entry): readonly Phrase[] => [
      valueNode(`events[${reconstruction.events.indexOf(entry)}].after_contact_s`, 'signed'),
      `: ${nameFromId(entry.event ?? '')}`,
    ]);
  return [
    ...one(nextId, ['Logged from contact on, with the time after it:']),
    bulletList(nextId, shown),
  ];
}

/** A section as it is without a template. */
const usual = (name: DraftSection, title: string): TemplateSection => {
  return { id: name, section: name, heading: title, text: [], required: [] };
};

/** Without a template, a section with nothing to say is left out. */
function usualSections(material: DebriefMaterial): readonly TemplateSection[] {
  return SECTIONS.filter(({ lacking }) => (lacking?.(material) ?? null) === null).map(
    ({ name, title }) => usual(name, title),
  );
}

/**
 * Drafts a debrief.
 *
 * @param material reconstruction, derived columns, findings and versions
 * @param registry blocks; each puts itself at the end of the sections it names
 * @param nextId gives ids one after the other; the same ids give the same document
 * @param template sections, order, headings and standing text; the program's own without one
 * @returns the `doc` node
 */
export function draftDebrief(
  material: DebriefMaterial,
  registry: BlockRegistry,
  nextId: () => string,
  template: DebriefTemplate | null = null,
): DocNode {
  const nodes = (own: Section | undefined, head: () => readonly DocNode[]): readonly DocNode[] => {
    if (own === undefined) return head();
    const live = [...registry.values()].flatMap((block) =>
      block.draft(own.name, material).map((attributes): DocNode => {
        return { type: block.name, attrs: { ...attributes, id: nextId() } };
      }),
    );
    const lacking = own.lacking?.(material) ?? null;
    const text = lacking === null ? own.text(material, nextId) : one(nextId, [lacking]);
    return [...head(), ...text, ...live];
  };
  const wanted = template?.sections ?? usualSections(material);
  const content = wanted.flatMap((section) => {
    const own = SECTIONS.find(({ name }) => name === section.section);
    const title = section.heading ?? own?.title ?? section.id;
    return nodes(own, () => [
      template === null ? heading(nextId(), 1, title) : keyedHeading(nextId(), title, section.id),
      ...section.text.map((words) => paragraph(nextId(), [words])),
    ]);
  });
  return { type: 'doc', content };
}
