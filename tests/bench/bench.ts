/** What a bench is: something measured against something else, with a limit on the ratio. */

export type BenchRow = Readonly<{
  what: string;
  unit: 's' | 'kB';
  measured: number;
  /** What it is measured against, or its limit. */
  reference: number;
  against: string;
  /** `measured / reference` must not pass `must`; `aim` is what is wished for. */
  must: number;
  aim: number;
  detail: string;
}>;

export type Bench = Readonly<{
  name: string;
  run: (say: (text: string) => void) => Promise<readonly BenchRow[]>;
}>;

/** The middle one of an odd number of values; the mean of the middle two otherwise. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? Number.NaN) + high) / 2;
}

/** Wall seconds of some work. */
export async function secondsOf(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
}

export type Cost = Readonly<{ wallS: number; processorS: number }>;

/** Wall and processor seconds of some work; on a busy machine the second tells more. */
export async function costOf(work: () => Promise<unknown>): Promise<Cost> {
  const before = process.cpuUsage();
  const wallS = await secondsOf(work);
  const { user, system } = process.cpuUsage(before);
  return { wallS, processorS: (user + system) / 1e6 };
}
