/** The core's kernels against NumPy's and SciPy's on the same columns; said when they are missing. */
import { spawnSync } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { quantiles } from '@/lib/core/math/quantiles';
import { savitzkyGolay } from '@/lib/core/math/savitzky-golay';
import { zeroCrossings } from '@/lib/core/math/zero-crossings';
import { resampleLinear } from '@/lib/core/series/resample';
import { seededRandom } from '../support/seeded-random';
import type { Bench, BenchRow } from './bench';

const ROWS = 1_500_000;
const ROUNDS = 15;
const STEP_S = 0.02;
/** Debian's own interpreter first: its packages are python3-numpy and python3-scipy. */
const INTERPRETERS = ['/usr/bin/python3', 'python3'];

type Columns = Readonly<{ tS: Float64Array; values: Float64Array; askedS: Float64Array }>;

function columns(): Columns {
  const random = seededRandom(11);
  const tS = Float64Array.from({ length: ROWS }, (_, k) => k * STEP_S);
  const values = tS.map((atS) => Math.sin(atS / 40) + 0.2 * (random() - 0.5));
  const lastS = (ROWS - 1) * STEP_S;
  const askedS = Float64Array.from({ length: ROWS }, (_, k) => ((k + 0.37) * lastS) / ROWS);
  return { tS, values, askedS };
}

type Kernel = Readonly<{
  name: 'smoothing' | 'gradient' | 'resampling' | 'crossings' | 'percentiles';
  against: string;
  must: number;
  run: () => unknown;
  /** One figure of the answer, to be held against theirs. */
  check: (answer: never) => number | readonly number[];
}>;

function kernel<T>(
  name: Kernel['name'],
  against: string,
  must: number,
  run: () => T,
  check: (answer: T) => number | readonly number[],
): Kernel {
  return { name, against, must, run, check };
}

function kernelsOf({ tS, values, askedS }: Columns): readonly Kernel[] {
  const smooth = { window: 21, degree: 2, derivative: 0, stepS: STEP_S };
  const slope = { window: 3, degree: 2, derivative: 1, stepS: STEP_S };
  return [
    kernel('smoothing', 'scipy savgol_filter', 1.5, () => savitzkyGolay(values, smooth), at1000),
    kernel('gradient', 'numpy gradient', 1.5, () => savitzkyGolay(values, slope), at1000),
    kernel('resampling', 'numpy interp', 1.5, () => resampleLinear(tS, values, askedS, 1), at1000),
    kernel(
      'crossings',
      'numpy sign changes',
      3,
      () => zeroCrossings(tS, values, 0, ROWS).atS,
      countAndSum,
    ),
    kernel(
      'percentiles',
      'numpy percentile',
      3,
      () => quantiles(values, [0.05, 0.5, 0.95], 7),
      same,
    ),
  ];
}

/** How many times there are, and what they add up to. */
function countAndSum(atS: Float64Array): readonly number[] {
  return [atS.length, atS.reduce((sum, one) => sum + one, 0)];
}

function at1000(answer: Float64Array): number {
  return answer[1000] ?? Number.NaN;
}

function same(answer: readonly number[]): readonly number[] {
  return answer;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return value !== null && typeof value === 'object';
}

/** Seconds and answers of the other side; `null` where no interpreter has NumPy. */
function theirTimes(folder: string): Readonly<Record<string, unknown>> | null {
  const script = path.join('tests', 'bench', 'kernels.py');
  for (const interpreter of INTERPRETERS) {
    const run = spawnSync(interpreter, [script, folder, `${ROUNDS}`], { encoding: 'utf8' });
    if (run.status !== 0) continue;
    const told: unknown = JSON.parse(run.stdout);
    if (isRecord(told)) return told;
  }
  return null;
}

function alike(ours: number | readonly number[], theirs: unknown): boolean {
  const a = typeof ours === 'number' ? [ours] : ours;
  const b = Array.isArray(theirs) ? theirs : [theirs];
  return a.every(
    (value, i) => Math.abs(value - Number(b[i])) <= 1e-9 * Math.max(1, Math.abs(value)),
  );
}

function rowOf(one: Kernel, told: Readonly<Record<string, unknown>>): BenchRow {
  const checks = isRecord(told.checks) ? told.checks : {};
  const seconds: number[] = [];
  let answer: unknown;
  for (let round = 0; round < ROUNDS; round++) {
    const start = performance.now();
    answer = one.run();
    seconds.push((performance.now() - start) / 1000);
  }
  const said = one.check(answer as never);
  if (!alike(said, checks[one.name])) {
    throw new Error(`${one.name}: ours ${said}, theirs ${String(checks[one.name])}`);
  }
  return {
    what: `${one.name} of 1.5 million values`,
    unit: 's',
    // The quickest of many: what else the machine does only ever adds.
    measured: Math.min(...seconds),
    reference: Number(told[one.name]),
    against: one.against,
    must: one.must,
    aim: 1,
    detail: `the quickest of ${ROUNDS} each, one thread; NumPy ${String(told.numpy)}, SciPy ${String(told.scipy ?? 'missing')}`,
  };
}

export const kernelsBench: Bench = {
  name: 'kernels',
  run: async (say) => {
    const folder = await mkdtemp(path.join(tmpdir(), 'wakeline-bench-'));
    try {
      const made = columns();
      await writeFile(path.join(folder, 'times.f64'), made.tS);
      await writeFile(path.join(folder, 'values.f64'), made.values);
      await writeFile(path.join(folder, 'asked.f64'), made.askedS);
      const told = theirTimes(folder);
      if (told === null) {
        say('did not run: no python3 with NumPy (Debian: python3-numpy, python3-scipy)');
        return [];
      }
      return kernelsOf(made).flatMap((one) => {
        if (told[one.name] !== undefined) return [rowOf(one, told)];
        say(`${one.name} did not run: SciPy is missing (Debian: python3-scipy)`);
        return [];
      });
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  },
};
