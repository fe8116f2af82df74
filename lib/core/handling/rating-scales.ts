/** The scales that can be given. Wordings are our own; structure and bands are the scales'. */
import type { RatingScale } from './decision-tree';

/**
 * Handling qualities, 1 to 10.
 *
 * Source: G. E. Cooper, R. P. Harper, "The Use of Pilot Rating in the Evaluation of Aircraft Handling
 * Qualities", NASA TN D-5153 (1969). Anchors from memory.
 */
const COOPER_HARPER: RatingScale = {
  id: 'cooper-harper',
  name: 'Cooper-Harper, handling qualities',
  source: 'Cooper and Harper, NASA TN D-5153 (1969)',
  first: 'controllable',
  questions: [
    {
      key: 'controllable',
      text: 'Is it controllable?',
      yes: { ask: 'adequate' },
      no: { ratings: [10] },
    },
    {
      key: 'adequate',
      text: 'Is adequate performance attainable with a tolerable workload?',
      yes: { ask: 'satisfactory' },
      no: { ratings: [7, 8, 9] },
    },
    {
      key: 'satisfactory',
      text: 'Is it satisfactory without improvement?',
      yes: { ratings: [1, 2, 3] },
      no: { ratings: [4, 5, 6] },
    },
  ],
  anchors: {
    1: 'desired performance, compensation no factor; excellent',
    2: 'desired performance, compensation no factor; good',
    3: 'desired performance with minimal compensation',
    4: 'desired performance with moderate compensation',
    5: 'adequate performance with considerable compensation',
    6: 'adequate performance with extensive compensation',
    7: 'adequate performance not attained with the most tolerable compensation; control not in question',
    8: 'considerable compensation to keep control',
    9: 'intense compensation to keep control',
    10: 'control is lost in some part of the task',
  },
};

/**
 * Workload, 1 to 10, of the same structure.
 *
 * Source: A. H. Roscoe, G. A. Ellis, "A Subjective Rating Scale for Assessing Pilot Workload in Flight",
 * RAE TR 90019 (1990). Branches and anchors from memory.
 */
const BEDFORD: RatingScale = {
  id: 'bedford',
  name: 'Bedford, workload',
  source: 'Roscoe and Ellis, RAE TR 90019 (1990)',
  first: 'possible',
  questions: [
    {
      key: 'possible',
      text: 'Was it possible to complete the task?',
      yes: { ask: 'tolerable' },
      no: { ratings: [10] },
    },
    {
      key: 'tolerable',
      text: 'Was the workload tolerable for the task?',
      yes: { ask: 'satisfactory' },
      no: { ratings: [7, 8, 9] },
    },
    {
      key: 'satisfactory',
      text: 'Was the workload satisfactory without reduction?',
      yes: { ratings: [1, 2, 3] },
      no: { ratings: [4, 5, 6] },
    },
  ],
  anchors: {
    1: 'insignificant',
    2: 'low',
    3: 'enough spare capacity for all desirable further tasks',
    4: 'spare capacity too small for easy attention to further tasks',
    5: 'reduced spare capacity: further tasks get less attention than wished',
    6: 'little spare capacity: the effort allows little attention to further tasks',
    7: 'very little spare capacity; the effort for the task itself is not in question',
    8: 'very high, almost no spare capacity',
    9: 'extremely high, no spare capacity',
    10: 'task given up: not enough effort could be applied',
  },
};

/**
 * Tendency to oscillate, 1 to 6.
 *
 * Source: MIL-STD-1797A, the six-point rating of pilot-induced oscillation; structure as published,
 * anchors shortened.
 */
const OSCILLATION: RatingScale = {
  id: 'oscillation',
  name: 'Tendency to oscillate, six points',
  source: 'MIL-STD-1797A, six-point PIO tendency rating',
  first: 'divergesOnEntry',
  questions: [
    {
      key: 'divergesOnEntry',
      text: 'Do oscillations grow as soon as the pilot takes control?',
      yes: { ratings: [6] },
      no: { ask: 'oscillates' },
    },
    {
      key: 'oscillates',
      text: 'Do abrupt manoeuvres or tight control cause oscillations?',
      yes: { ask: 'divergent' },
      no: { ask: 'undesirable' },
    },
    {
      key: 'divergent',
      text: 'Do these oscillations grow?',
      yes: { ratings: [5] },
      no: { ratings: [4] },
    },
    {
      key: 'undesirable',
      text: 'Do undesirable motions tend to occur?',
      yes: { ask: 'compromised' },
      no: { ratings: [1] },
    },
    {
      key: 'compromised',
      text: 'Is the performance of the task compromised by them?',
      yes: { ratings: [3] },
      no: { ratings: [2] },
    },
  ],
  anchors: {
    1: 'no undesirable motions',
    2: 'undesirable motions, prevented or ended by technique',
    3: 'undesirable motions, ended only at the cost of the task or of much attention',
    4: 'oscillations on tight control; gain must be reduced or the task left',
    5: 'growing oscillations on tight control; the loop must be opened',
    6: 'growing oscillations on normal control; the loop must be opened',
  },
};

export const RATING_SCALES: readonly RatingScale[] = [COOPER_HARPER, BEDFORD, OSCILLATION];

/** @returns null for an id that is no scale's */
export function ratingScale(id: string): RatingScale | null {
  return RATING_SCALES.find((scale) => scale.id === id) ?? null;
}

/** What a Cooper-Harper rating says of the task's bounds. */
export type PerformanceClaim = 'desired' | 'adequate only' | 'adequate not met' | 'control lost';

/**
 * Ratings 1 to 4 say that desired performance was met (4 with moderate compensation), 5 and 6 adequate
 * alone, 7 to 9 that adequate was not, 10 that control was lost.
 *
 * @param rating a whole number from 1 to 10
 *
 * Source: NASA TN D-5153; a paraphrase that ends desired performance at 3 contradicts it.
 */
export function claimOfRating(rating: number): PerformanceClaim {
  if (rating <= 4) return 'desired';
  if (rating <= 6) return 'adequate only';
  return rating <= 9 ? 'adequate not met' : 'control lost';
}
