/** How the flight went beside its plan, in sentences: time taken, runs without a step, steps left out. */
import {
  breakOffs,
  cutStep,
  flownAgain,
  type RunKind,
  runKind,
  type Unflown,
  unflownWhy,
} from '../reconstruction/flight-course';
import { completionOf } from '../reconstruction/kind-words';
import { motionReachesContact } from '../reconstruction/reaches-contact';
import type { Reconstruction } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { type Phrase, roughNode, valueNode } from './build-document';
import type { DebriefMaterial } from './debrief-material';
import { known, listed, type Sentence } from './draft-sentences';

/** Name of the step that was under way when the data begin; null where none was. */
function cutName(reconstruction: Reconstruction): string | null {
  const cut = cutStep(reconstruction);
  const step = cut === null ? undefined : reconstruction.steps[cut];
  return step === undefined ? null : nameFromId(step.id);
}

/** Time from the first step to contact beside the plan's time for its steps. */
export function durationSentence({ figures, reconstruction }: DebriefMaterial): Sentence {
  if (!known(figures.get('approach.flown_s')) || !motionReachesContact(reconstruction)) return null;
  const flown = valueNode('approach.flown_s', 'spoken');
  const cut = cutName(reconstruction);
  if (cut !== null) return [`The data begin in ${cut}, `, flown, ' before contact.'];
  const took: Phrase[] = ['From the start of the first step to contact it took ', flown];
  if (!known(figures.get('approach.planned_s'))) return [...took, '.'];
  const skipped = reconstruction.steps.filter((step) => step.pieces === 0).length;
  const skippedWords =
    skipped === 0 ? '' : `, ${skipped === 1 ? 'the one' : 'those'} not flown included`;
  return [
    ...took,
    '; the plan gives ',
    valueNode('approach.planned_s', 'spoken'),
    ` for its steps${skippedWords}.`,
  ];
}

/** Each break-off: where, and from where the approach was begun again. */
export function breakOffSentences({ reconstruction }: DebriefMaterial): readonly Sentence[] {
  return breakOffs(reconstruction).map(({ at, again }): readonly Phrase[] => [
    'The approach was broken off at ',
    roughNode(`phases[${at}].start_s`, 'time', 1),
    ', ',
    roughNode(`phases[${at}].range_start_m`, 'number', 1),
    ' from the port',
    ...(again === null
      ? ['.']
      : [
          ', and begun again at ',
          roughNode(`phases[${again}].start_s`, 'time', 1),
          ' from ',
          roughNode(`phases[${again}].range_start_m`, 'number', 1),
          '.',
        ]),
  ]);
}

const RUN_NOUNS: Readonly<Record<RunKind, string>> = {
  hold: 'a hold',
  crossing: 'a crossing',
  closing: 'a closing',
  opening: 'an opening',
  'back-off': 'a back-off',
  'break-off': 'a break-off',
};

function unplannedPhrase(reconstruction: Reconstruction, index: number): readonly Phrase[] {
  const at = `phases[${index}]`;
  const motion = reconstruction.phases[index]?.motion;
  const moves = motion === 'opening' || motion === 'closing';
  const again = flownAgain(reconstruction, index);
  const noun =
    again === null ? RUN_NOUNS[runKind(reconstruction, index)] : `${nameFromId(again)} again,`;
  return [
    `${noun} ${moves ? 'from' : 'at'} `,
    roughNode(`${at}.range_start_m`, 'number', 0),
    ...(moves ? [' to ', roughNode(`${at}.range_end_m`, 'number', 0)] : []),
    ' for ',
    roughNode(`${at}.duration_s`, 'spoken', 0),
  ];
}

/** Runs of motion that no step asked for, before contact. */
export function unplannedSentence({ reconstruction }: DebriefMaterial): Sentence {
  const { phases, plan } = reconstruction;
  if (plan === null) return null;
  const unplanned = phases.flatMap(({ step }, index) =>
    step === null ? [unplannedPhrase(reconstruction, index)] : [],
  );
  if (unplanned.length > 0) return ['Not in the plan: ', ...listed(unplanned), '.'];
  const isWhole = phases.length > 0 && passedSentences({ reconstruction }).length === 0;
  return isWhole ? ['Nothing was seen that no step asked for.'] : null;
}

/** Moves that went on past their target without a hold, so that later steps are counted with them. */
export function passedSentences({
  reconstruction,
}: Pick<DebriefMaterial, 'reconstruction'>): readonly Sentence[] {
  return reconstruction.notes
    .filter(({ code }) => code === 'target-passed')
    .map(({ message }) => [message]);
}

const UNFLOWN_WORDS: readonly (readonly [kind: Unflown, words: string])[] = [
  ['before the data', 'Before the data begin: '],
  ['not flown', 'Not flown: '],
  ['passed over', 'Without a run of their own, for the move before went on over their place: '],
  ['broken off', 'Not flown, for the approach was broken off: '],
  ['after the data', 'Not seen in the data: '],
];

/** Steps of the plan that were not flown, or not to their end. */
export function stepSentence({ reconstruction }: DebriefMaterial): Sentence {
  const { steps } = reconstruction;
  if (steps.length === 0) return null;
  const unflown = UNFLOWN_WORDS.flatMap(([kind, words]) => {
    const names = steps.flatMap(({ id, pieces }, index) =>
      pieces === 0 && unflownWhy(reconstruction, index) === kind ? [[nameFromId(id)]] : [],
    );
    return names.length === 0 ? [] : [[words, ...listed(names), '.']];
  });
  const ended = (as: ReturnType<typeof completionOf>) =>
    steps
      .filter((step) => step.pieces > 0 && completionOf(step) === as)
      .map((step) => [nameFromId(step.id)]);
  const open = ended('not completed');
  const unsure = ended('completion undecided');
  const cut = cutName(reconstruction);
  const parts: (readonly Phrase[])[] = [
    ...unflown,
    ...(cut === null
      ? []
      : [[`${cut} was under way when they begin: its length counts from there.`]]),
    ...(open.length === 0 ? [] : [['Not completed: ', ...listed(open), '.']]),
    ...(unsure.length === 0
      ? []
      : [['Completed or not, within the uncertainty of its length: ', ...listed(unsure), '.']]),
  ];
  if (parts.length > 0) {
    return parts.flatMap((part, index) => (index === 0 ? part : [' ', ...part]));
  }
  return steps.length === 1
    ? ['The one step of the plan was completed.']
    : ['All ', valueNode('counts.steps', 'word'), ' steps of the plan were completed.'];
}
