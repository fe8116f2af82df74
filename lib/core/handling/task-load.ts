/** NASA-TLX: six sub-scales and their plain mean. */

/** In the order of the form. `performance` runs from good (0) to poor (100), the others from low to high. */
export const TASK_LOAD_SCALES = [
  'mental',
  'physical',
  'temporal',
  'performance',
  'effort',
  'frustration',
] as const;

export type TaskLoadScale = (typeof TASK_LOAD_SCALES)[number];
export type TaskLoad = Readonly<Record<TaskLoadScale, number>>;

/** Its name as a scale of ratings. */
export const TASK_LOAD = {
  id: 'task-load',
  name: 'NASA-TLX, raw',
  source: 'Hart and Staveland, NASA-TLX (1988), plain mean',
} as const;

/** What each sub-scale asks, in our own words, with its ends. */
export const TASK_LOAD_WORDS: Readonly<Record<TaskLoadScale, string>> = {
  mental: 'Mental demand, low to high',
  physical: 'Physical demand, low to high',
  temporal: 'Pressure of time, low to high',
  performance: 'Own performance, good to poor',
  effort: 'Effort, low to high',
  frustration: 'Frustration, low to high',
};

const STEP = 5;

/** Why ratings cannot stand: one sentence a scale; empty where they can. */
export function taskLoadFaults(ratings: TaskLoad): readonly string[] {
  return TASK_LOAD_SCALES.filter((scale) => {
    const value = ratings[scale];
    return !(value >= 0 && value <= 100 && value % STEP === 0);
  }).map(
    (scale) => `${scale} must be a multiple of ${STEP} from 0 to 100, found ${ratings[scale]}`,
  );
}

/**
 * Raw task load: the mean of the six ratings, 0 to 100.
 *
 * Source: S. G. Hart, L. E. Staveland, "Development of NASA-TLX", in Hancock & Meshkati (eds.), "Human
 * Mental Workload" (1988).
 */
export function rawTaskLoad(ratings: TaskLoad): number {
  return TASK_LOAD_SCALES.reduce((sum, scale) => sum + ratings[scale], 0) / TASK_LOAD_SCALES.length;
}
