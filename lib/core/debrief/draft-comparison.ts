/** The flight among its simulator runs, in sentences: what was compared, what lies outside, what the runs can say. */
import type { Comparison, VehicleAxis } from '../reconstruction/comparison';
import { FEWEST_RUNS } from '../reconstruction/comparison-scores';
import { nameFromId } from '../session/name-from-id';
import { countWord } from '../units/number-text';
import { type Phrase, valueNode } from './build-document';
import { runKinds } from './compared-counts';
import type { DebriefMaterial } from './debrief-material';
import { known, listed, lowered, type Sentence } from './draft-sentences';
import { axisSentences, numberSentences, supportSentence } from './draft-standing-out';

const counted = (key: string, count: number, one: string, many: string): readonly Phrase[] => [
  valueNode(`comparison.${key}`, 'word'),
  ` ${count === 1 ? one : many}`,
];

/** Which runs, of which kind; and that some were left out. */
function againstSentences(comparison: Comparison): readonly Sentence[] {
  const { runs, leftOut, step, completed } = comparison;
  const kinds = runKinds(comparison);
  const { predictions, reconstructions, flights } = kinds;
  const left: Sentence =
    leftOut.length === 0
      ? null
      : [
          leftOut.length === 1 ? 'One run' : `${startWord(leftOut.length)} runs`,
          ' could not be compared and ',
          leftOut.length === 1 ? 'is' : 'are',
          ' in no number.',
        ];
  if (runs === 0) return [['No simulator run could be compared.'], left];
  const parts = [
    ...(predictions === 0
      ? []
      : [counted('predictions', predictions, 'prediction', 'predictions')]),
    ...(reconstructions === 0
      ? []
      : [counted('reconstructions', reconstructions, 'reconstruction', 'reconstructions')]),
  ];
  const flown = counted('flights', flights, 'other flight', 'other flights');
  const against: readonly Phrase[] =
    parts.length === 0
      ? flown
      : [...listed(parts), ' of the simulator', ...(flights === 0 ? [] : [' and ', ...flown])];
  const isPart = runs < predictions + reconstructions + flights;
  return [
    [`The step ${nameFromId(step)}, as flown, was held against `, ...against, '.'],
    isPart
      ? ['Bands and ranks rest on ', valueNode('comparison.runs', 'word'), ' of them alone.']
      : null,
    left,
    completed ? null : ['The flight did not complete the step, so nothing is said to stand out.'],
  ];
}

function startWord(count: number): string {
  const word = countWord(count);
  return `${word.charAt(0).toUpperCase()}${word.slice(1)}`;
}

const VEHICLE: readonly (readonly [VehicleAxis['verdict'], string])[] = [
  ['looser', 'the vehicle was looser than simulated in '],
  ['tighter', 'the vehicle was tighter than simulated in '],
  ['as simulated', 'it was as simulated in '],
];

/** Only reconstructions speak of the vehicle itself, and only like against like. */
function vehicleSentence(comparison: Comparison): Sentence {
  const { vehicle, groups } = comparison;
  if (vehicle.length === 0) {
    return runKinds(comparison).predictions === 0
      ? null
      : [
          'Predictions have inputs and a first state of their own: a difference from them may lie in those or in the vehicle.',
        ];
  }
  const clauses = VEHICLE.flatMap(([verdict, words]) => {
    const axes = vehicle.filter((axis) => axis.verdict === verdict);
    const named = axes.map(({ axis, label }): readonly Phrase[] => [
      `${lowered(label)} (`,
      valueNode(`comparison.vehicle[${axis}].ratio`),
      ' times)',
    ]);
    return axes.length === 0 ? [] : [[words, ...listed(named)]];
  });
  if (clauses.length > 0) return ['Beside the reconstructions ', ...listed(clauses), '.'];
  const why = groups
    .filter(({ basis }) => basis === 'reconstruction')
    .flatMap(({ differs, unstated }) => [
      ...differs,
      ...unstated.map((each) => `${each} not stated on both sides`),
    ]);
  const because = why.length === 0 ? '' : `: ${[...new Set(why)].join('; ')}`;
  return [
    `Nothing is said of the vehicle itself, for like is not held against like in any reconstruction${because}.`,
  ];
}

/** What lies outside the band, and how much of it chance alone would. */
function bandSentences({ quantities }: Comparison): readonly Sentence[] {
  const held = quantities.filter(
    ({ shareOutside, chanceP95 }) => known(shareOutside) && known(chanceP95),
  );
  const first = held[0];
  if (first === undefined) return [];
  const of = ({ shareOutside, chanceP95 }: typeof first): number =>
    (shareOutside.value ?? 0) - (chanceP95.value ?? 0);
  const over = held.filter((each) => of(each) > 0);
  const farthest = held.reduce((most, each) => (of(each) > of(most) ? each : most), first);
  const shares = ({ name, label }: typeof first): readonly Phrase[] => [
    `${lowered(label)} at `,
    valueNode(`comparison.quantities[${name}].share_outside`),
    ' of the places (95 of 100 single runs: at most ',
    valueNode(`comparison.quantities[${name}].chance_p95`),
    ')',
  ];
  const band = 'the band from the 5th to the 95th percentile of the runs';
  if (over.length === 0) {
    return [
      [
        `In no quantity does the flight leave ${band} more often than chance alone lets single runs; nearest to it is `,
        ...shares(farthest),
        '.',
      ],
    ];
  }
  return [
    [
      `The flight leaves ${band} more often than chance alone lets single runs: `,
      ...over.flatMap((each, index) => [index === 0 ? '' : '; ', ...shares(each)]),
      '.',
    ],
    held.length === over.length ? null : ['In every other quantity it does not.'],
  ];
}

/** The comparison in paragraphs of sentences; none where the session was held against no runs. */
export function comparisonParagraphs({
  reconstruction: { comparison },
}: DebriefMaterial): readonly (readonly Sentence[])[] {
  if (comparison === null) return [];
  const start = againstSentences(comparison);
  const { runs } = comparison;
  if (runs === 0) return [start];
  if (runs < FEWEST_RUNS) {
    const asked = `at least ${countWord(FEWEST_RUNS)} are asked before anything is said to stand out`;
    const few =
      runs === 1
        ? `One says how far apart the two are, not whether that is unusual: ${asked}.`
        : `So few say little: ${asked}.`;
    return [[...start, [few], vehicleSentence(comparison)]];
  }
  return [
    [...start, vehicleSentence(comparison)],
    [...bandSentences(comparison), ...axisSentences(comparison)],
    [...numberSentences(comparison), supportSentence(comparison)],
  ];
}
