/** Tasks flown by hand, in sentences: what was asked, what was measured, how ratings differ from it. */
import { ratingScale } from '../handling/rating-scales';
import { TASK_LOAD } from '../handling/task-load';
import { quantityLabel } from '../reconstruction/compared-names';
import type { RatingResult, TaskResult } from '../reconstruction/handling';
import { formatNumber } from '../units/number-text';
import { type Phrase, valueNode } from './build-document';
import type { DebriefMaterial } from './debrief-material';
import { joinSentences, known, lowered, type Sentence } from './draft-sentences';

const MET = {
  desired: 'the desired bounds were kept',
  'adequate only': 'only the adequate bounds were kept',
  neither: 'neither desired nor adequate bounds were kept',
} as const;

function askedSentence({ name, pilot, quantity, target, unit }: TaskResult): Sentence {
  const at = `handling[${name}]`;
  const what = lowered(quantityLabel(quantity));
  const bounds: readonly Phrase[] =
    unit === ''
      ? []
      : [
          ` asked for ${what} within `,
          valueNode(`${at}.desired`),
          ' (desired) and ',
          valueNode(`${at}.adequate`),
          ' (adequate)',
          ...(target === 0 ? [] : [' of ', valueNode(`${at}.target`)]),
          ' and',
        ];
  return [
    `“${name}”`,
    ...bounds,
    ` was flown by ${pilot} from `,
    valueNode(`${at}.from_s`, 'time'),
    ' to ',
    valueNode(`${at}.to_s`, 'time'),
    '.',
  ];
}

function measuredSentence({ name, insideDesired, met, fault }: TaskResult): Sentence {
  const at = `handling[${name}]`;
  if (fault !== null) return [`It was not measured: ${fault}.`];
  if (!known(insideDesired) || met === null) return null;
  return [
    'It was inside the desired bounds for ',
    valueNode(`${at}.inside_desired`),
    ' of the time and inside the adequate ones for ',
    valueNode(`${at}.inside_adequate`),
    `: ${MET[met]}.`,
  ];
}

/** How the simulator's runs kept the same bounds over the same stretch of the step. */
function simulatedSentence({ name, simulator }: TaskResult): Sentence {
  if (simulator == null || !known(simulator.insideDesired)) return null;
  const at = `handling[${name}]`;
  return [
    'In the median run it was inside them for ',
    valueNode(`${at}.sim_inside_desired`),
    ' and ',
    valueNode(`${at}.sim_inside_adequate`),
    '.',
  ];
}

function ratingName({ scale, load }: RatingResult): string {
  return load === undefined ? (ratingScale(scale)?.name ?? scale) : TASK_LOAD.name;
}

function ratingSentences({ name, ratings, pilotInLoop }: TaskResult): readonly Sentence[] {
  if (ratings.length === 0)
    return [
      [
        pilotInLoop === 'at rest'
          ? 'No hand controller was moved in it, so that it is not to be rated.'
          : 'Nobody rated it.',
      ],
    ];
  const differing = ratings.filter(({ fault, against }) => (fault ?? against) !== null);
  const at = `handling[${name}]`;
  const count: readonly Phrase[] = [
    'It has ',
    valueNode(`${at}.ratings`, 'word'),
    ratings.length === 1 ? ' rating' : ' ratings',
  ];
  if (differing.length === 0) {
    // Of the scales only Cooper-Harper's speaks of the bounds.
    const isOfBounds = ratings.some(({ claim }) => claim !== null);
    const one = isOfBounds ? 'which does not contradict' : 'which says nothing of';
    const many = isOfBounds ? 'none of which contradicts' : 'none of which says anything of';
    return [[...count, `, ${ratings.length === 1 ? one : many} the bounds.`]];
  }
  return [
    [...count, '.'],
    ...differing.map((rating): Sentence => {
      const given = formatNumber(rating.rating, rating.load === undefined ? 0 : 1);
      const which = `${rating.rater}’s rating of ${given} on the scale ${ratingName(rating)}`;
      return rating.fault === null
        ? [`${which} differs from the data: ${rating.against ?? ''}.`]
        : [`${which} cannot stand: ${rating.fault}.`];
    }),
  ];
}

/** One line a task, in the order of time. */
export function taskLines({
  reconstruction: { handling },
}: DebriefMaterial): readonly (readonly Phrase[])[] {
  return handling.tasks.map((task) =>
    joinSentences([
      askedSentence(task),
      measuredSentence(task),
      simulatedSentence(task),
      ...ratingSentences(task),
    ]),
  );
}

/** Ratings of tasks that nobody named. */
export function astrayLines({
  reconstruction: { handling },
}: DebriefMaterial): readonly (readonly Phrase[])[] {
  return handling.astray.map((rating) => [
    `A rating on the scale ${ratingName(rating)} by ${rating.rater} is for no task: ${rating.fault ?? 'its task is not known'}.`,
  ]);
}
