/** Figures of a comparison and of tasks that only a document states: counts, a chance, stated bounds. */
import type { Evidence, Figure } from '../figure';
import { oneSidedChance } from '../math/order-statistics';
import type { Comparison, ComparisonScore } from '../reconstruction/comparison';
import type { TaskResult } from '../reconstruction/handling';
import type { Reconstruction } from '../reconstruction/reconstruction';

/** Beyond all of the runs that have it, on either side. */
export function isBeyondAll({ runsBelow, runsAbove }: ComparisonScore): boolean {
  return runsBelow === 0 || runsAbove === 0;
}

/** How many runs there are of each kind; another flight is neither prediction nor reconstruction. */
export function runKinds({ groups }: Comparison) {
  const count = (fits: (group: Comparison['groups'][number]) => boolean): number =>
    groups.filter(fits).reduce((sum, { names }) => sum + names.length, 0);
  const isRun = (group: Comparison['groups'][number]): boolean => group.isFlight !== true;
  return {
    predictions: count((group) => isRun(group) && group.basis === 'prediction'),
    reconstructions: count((group) => isRun(group) && group.basis === 'reconstruction'),
    flights: count((group) => !isRun(group)),
  };
}

function plain(value: number, method: string, evidence: Evidence): Figure {
  return { value, unit: '1', uncertainty: null, method, evidence };
}

function comparedCounts(comparison: Comparison): readonly [string, Figure][] {
  const { runs, leftOut, scores } = comparison;
  const kinds = runKinds(comparison);
  const evidence = scores[0]?.rank.evidence ?? {
    sources: [],
    channels: [],
    fromS: null,
    toS: null,
  };
  const beyond = scores.filter(isBeyondAll).length;
  const counts: readonly (readonly [key: string, value: number, method: string])[] = [
    ['runs', runs, 'Number of runs that bands and ranks rest on.'],
    ['predictions', kinds.predictions, 'Number of runs made before the flight.'],
    [
      'reconstructions',
      kinds.reconstructions,
      'Number of runs driven by the recorded inputs from the flown first state.',
    ],
    ['flights', kinds.flights, 'Number of other flights among what is compared.'],
    ['left_out', leftOut.length, 'Number of runs that could not be compared.'],
    ['numbers', scores.length, 'Number of the final step’s numbers that flight and runs have.'],
    ['numbers_beyond_all', beyond, 'Number of those that lie beyond all runs that have them.'],
  ];
  const chance = plain(
    oneSidedChance({ below: runs, above: 0, runs }),
    'Chance at most of one number, named beforehand, to lie beyond all N runs on one side: 1/(N + 1), flight and runs being equal draws.',
    evidence,
  );
  return [
    ...counts.map(([key, value, method]): [string, Figure] => [
      `comparison.${key}`,
      plain(value, method, evidence),
    ]),
    ...(runs === 0 ? [] : [['comparison.chance_beyond_all', chance] as [string, Figure]]),
  ];
}

/** Stretch and bounds as they were stated; bounds only where the unit of the quantity is known. */
function statedOf(task: TaskResult): readonly [string, Figure][] {
  const { name, fromS, toS, target, desired, adequate, unit, ratings, bias } = task;
  const evidence = { sources: [], channels: bias?.evidence.channels ?? [], fromS, toS };
  const stated = (value: number, unitOf: string, method: string): Figure => {
    return { value, unit: unitOf, uncertainty: null, method, evidence };
  };
  const differing = ratings.filter(({ fault, against }) => (fault ?? against) !== null);
  const parts: readonly (readonly [string, Figure])[] = [
    ['from_s', stated(fromS, 's', 'Start of the task, as stated with it.')],
    ['to_s', stated(toS, 's', 'End of the task, as stated with it.')],
    ['ratings', plain(ratings.length, 'Number of ratings given to the task.', evidence)],
    [
      'ratings_differing',
      plain(
        differing.length,
        'Number of ratings that differ from what was measured, or cannot stand.',
        evidence,
      ),
    ],
    ...(unit === ''
      ? []
      : ([
          ['target', stated(target, unit, 'Target of the task, as stated with it.')],
          ['desired', stated(desired, unit, 'Desired half-width about the target, as stated.')],
          ['adequate', stated(adequate, unit, 'Adequate half-width about the target, as stated.')],
        ] as const)),
  ];
  return parts.map(([key, figure]): [string, Figure] => [`handling[${name}].${key}`, figure]);
}

/** `comparison.runs`, `comparison.chance_beyond_all`, `handling[keep y].desired`, ... */
export function comparedFigures({
  comparison,
  handling,
}: Reconstruction): readonly [string, Figure][] {
  return [
    ...(comparison === null ? [] : comparedCounts(comparison)),
    ...handling.tasks.flatMap(statedOf),
  ];
}
