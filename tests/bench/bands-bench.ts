/** A thousand runs to bands, from the store, against NumPy's percentile over numbers in memory. */
import { spawnSync } from 'node:child_process';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Track } from '@/lib/core/compare/track';
import { compareAligned, START_QUESTION } from '@/lib/core/reconstruction/aligned-comparison';
import { type CompareTracks, TRACK_COLUMNS } from '@/lib/core/reconstruction/compare-tracks';
import { samplePath } from '@/lib/server/samples/columns-of';
import { readTracks, writeTracks } from '@/lib/server/samples/track-file';
import { seededRandom } from '../support/seeded-random';
import type { Bench, BenchRow } from './bench';

const RUNS = 1000;
const ROWS = 3600;
const CHANNELS = TRACK_COLUMNS.length - 2;
const BINS = 200;
const ROUNDS = 5;
const INTERPRETERS = ['/usr/bin/python3', 'python3'];
const FOLDER = `${'0'.repeat(12)}-${'0'.repeat(12)}`;

/** From 200 m to the port in an hour, each run at a rate of its own; ten channels that swing. */
function trackOf(number: number): Track {
  const random = seededRandom(number + 1);
  const tS = Float64Array.from({ length: ROWS }, (_, k) => k);
  const rateMps = 0.0555 * (0.98 + 0.04 * random());
  const axial = tS.map((atS) => Math.max(0.2, 199.9 - rateMps * atS));
  const columns = new Map([
    ['range', axial],
    ['axial_distance', axial],
  ]);
  for (const name of TRACK_COLUMNS.slice(2)) {
    const size = 0.5 + random();
    const turn = 40 + 20 * random();
    columns.set(
      name,
      tS.map((atS) => size * Math.sin(atS / turn) + 0.1 * random()),
    );
  }
  return {
    name: `run-${number}`,
    sha256: 'a'.repeat(64),
    tS,
    spans: [{ from: 0, to: ROWS }],
    columns,
    steps: { final: [0, ROWS - 1] },
    contactS: ROWS - 1,
  };
}

function madeTracks(): CompareTracks {
  return {
    pass: { step: 'final', sense: 'inward' },
    flight: trackOf(-1),
    runs: Array.from({ length: RUNS }, (_, number) => trackOf(number)),
    others: [],
    channels: ['x'],
    sources: [{ file: 'telemetry.csv', sha256: 'a'.repeat(64) }],
    files: 'runs/*.csv',
    sha256: 'b'.repeat(64),
  };
}

type Told = Readonly<{ numpy: string; seconds: number; place: readonly number[] }>;

/** `null` where no interpreter has NumPy. */
function theirs(folder: string): Told | null {
  const script = path.join('tests', 'bench', 'bands.py');
  const sizes = [RUNS, ROWS, CHANNELS, BINS].map(String);
  for (const interpreter of INTERPRETERS) {
    const run = spawnSync(interpreter, [script, folder, ...sizes], { encoding: 'utf8' });
    if (run.status === 0) return JSON.parse(run.stdout) as Told;
  }
  return null;
}

async function secondsAndAnswer<T>(work: () => Promise<T>): Promise<readonly [number, T]> {
  const start = performance.now();
  const answer = await work();
  return [(performance.now() - start) / 1000, answer];
}

type Measured = Readonly<{ first: readonly number[]; again: readonly number[]; told: Told | null }>;

/** Reads and compares some times over; the numbers of one place are held against NumPy's. */
async function measured(root: string): Promise<Measured> {
  const first: number[] = [];
  const again: number[] = [];
  let tracks: CompareTracks | null = null;
  let bands: ReturnType<typeof compareAligned> | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const [seconds, answer] = await secondsAndAnswer(async () => {
      const read = await readTracks(root, FOLDER);
      if (read === null) throw new Error('nothing was written');
      return { read, bands: compareAligned(read, START_QUESTION) };
    });
    first.push(seconds);
    tracks = answer.read;
    bands = answer.bands;
    const alignment = { kind: 'time', step: 'final' } as const;
    const [next] = await secondsAndAnswer(async () =>
      compareAligned(answer.read, { ...START_QUESTION, alignment }),
    );
    again.push(next);
  }
  const quantity = bands?.quantities[0];
  const place = quantity?.places.indexOf(100) ?? -1;
  const values = (tracks?.runs ?? []).map((run) => valueAt(run, quantity?.name ?? '', 100));
  await writeFile(path.join(root, 'place.f64'), Float64Array.from(values));
  const told = theirs(root);
  const ours = [quantity?.p05[place], quantity?.p50[place], quantity?.p95[place]];
  for (const [index, value] of told?.place.entries() ?? [])
    if (!(Math.abs((ours[index] ?? Number.NaN) - value) < 1e-12))
      throw new Error(`bands at 100 m: ours ${ours.join(', ')}, NumPy ${told?.place.join(', ')}`);
  return { first, again, told };
}

/** By hand: the last rows before and after a distance, and a straight line between them. */
function valueAt({ columns }: Track, name: string, atM: number): number {
  const axial = columns.get('axial_distance') ?? new Float64Array(0);
  const values = columns.get(name) ?? new Float64Array(0);
  const after = axial.findIndex((each) => each <= atM);
  const [a = 0, b = 0] = [axial[after - 1], axial[after]];
  const share = (a - atM) / (a - b);
  return (values[after - 1] ?? 0) * (1 - share) + (values[after] ?? 0) * share;
}

export const bandsBench: Bench = {
  name: 'bands',
  run: async (say) => {
    const root = await mkdtemp(path.join(tmpdir(), 'wakeline-bands-'));
    try {
      await mkdir(samplePath(root, FOLDER), { recursive: true });
      await writeTracks(samplePath(root, FOLDER), madeTracks());
      const { first, again, told } = await measured(root);
      const what = `${RUNS} runs x ${ROWS} rows x ${CHANNELS} channels`;
      const rows: BenchRow[] = [
        {
          what: `${what}, asked again in another way`,
          unit: 's',
          measured: Math.min(...again),
          reference: 0.3,
          against: 'our limit',
          must: 1,
          aim: 1 / 3,
          detail: `the quickest of ${ROUNDS}; time within the step after axial distance`,
        },
      ];
      if (told === null) {
        say('bands did not run against NumPy: no python3 with it (Debian: python3-numpy)');
        return rows;
      }
      rows.unshift({
        what: `${what} from the store to bands at ${BINS} places`,
        unit: 's',
        measured: Math.min(...first),
        reference: told.seconds,
        against: 'numpy percentile in memory',
        must: 2.2,
        aim: 1,
        detail: `the quickest of ${ROUNDS} both; NumPy ${told.numpy}; with shares, distances and scores of pairs`,
      });
      return rows;
    } finally {
      await rm(root, { recursive: true, force: true });
    }
  },
};
