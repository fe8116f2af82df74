/** Contact and capture in sentences: when and how fast, the table of limits, each stage against the plan. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import type { CaptureView, StageStanding } from './capture-view';
import type { ContactView } from './contact-view';
import { contactSentences } from './overview/answer-view';
import { listParts, type Sentence } from './sentence';

/** What is said of stages that stand so, in the order in which they are told. */
const STAGE_WORDS: readonly (readonly [standing: StageStanding, one: string, more: string])[] = [
  ['late', 'was late', 'were late'],
  ['early', 'was early', 'were early'],
  [
    'too close to call',
    'lies too close to its bounds to call',
    'lie too close to their bounds to call',
  ],
  ['as planned', 'was as planned', 'were as planned'],
  ['no time planned', 'was seen, with no time planned', 'were seen, with no time planned'],
  ['not seen', 'was not seen', 'were not seen'],
  ['not known', 'is not known', 'are not known'],
];

function stageSentences({ stages }: CaptureView): readonly Sentence[] {
  const sentences = STAGE_WORDS.flatMap(([standing, one, more]): Sentence[] => {
    const names = stages.filter((stage) => stage.standing === standing).map(({ name }) => name);
    if (names.length === 0) return [];
    const listed = names.map((name, index): Sentence => [index === 0 ? name : name.toLowerCase()]);
    return [[...listParts(listed), ` ${names.length === 1 ? one : more}.`]];
  });
  const astray = stages.filter(({ outOfOrder }) => outOfOrder !== null).length;
  return astray === 0 ? sentences : [...sentences, ['Stages came out of order.']];
}

/** @returns empty without contact, which the screen says by itself */
export function contactAnswer(
  reconstruction: Reconstruction,
  contact: ContactView | null,
  capture: CaptureView | null,
): readonly Sentence[] {
  if (contact === null) return [];
  return [
    ...contactSentences(reconstruction, contact),
    ...(capture === null ? [] : stageSentences(capture)),
  ];
}
