/** Which columns of which samples a record cites, and over what stretch. */
import type { DebriefRecord } from '@/lib/core/debrief/record';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { columnsOf } from '../../samples/columns-of';
import type { SampleManifest } from '../../samples/sample-manifest';
import type { PackageInputs } from './package-material';

/** Columns of one sample folder. Its own clock goes onto session time as `offsetS + rate * own`. */
export type CitedColumns = Readonly<{
  folder: string;
  source: string | null;
  columns: readonly Readonly<{ name: string; stored: string; unit: string }>[];
  offsetS: number;
  rate: number;
  /** Session time; the whole of the folder where null. */
  fromS: number | null;
  toS: number | null;
}>;

type Stretch = Readonly<{ names: Set<string>; fromS: number | null; toS: number | null }>;

/** Names that the evidence gives, and the hull of their stretches; null ends where one has none. */
function citedOf(record: DebriefRecord, file: string | null): Stretch {
  const names = new Set<string>();
  const ends: number[] = [];
  let isWhole = false;
  for (const entry of record.evidence) {
    const rests = file === null || entry.sources.some((at) => record.sources[at]?.file === file);
    if (!rests || entry.channels.length === 0) continue;
    for (const name of entry.channels) names.add(name);
    if (entry.fromS === null || entry.toS === null) isWhole = true;
    else ends.push(entry.fromS, entry.toS);
  }
  const isOpen = isWhole || ends.length === 0;
  const [fromS, toS] = ends.reduce(
    ([low, high], end) => [Math.min(low, end), Math.max(high, end)] as const,
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const,
  );
  return { names, fromS: isOpen ? null : fromS, toS: isOpen ? null : toS };
}

function chosen(manifest: SampleManifest, wanted: ReadonlySet<string>): CitedColumns['columns'] {
  return manifest.channels
    .filter(({ name, samples }) => samples > 0 && wanted.has(name))
    .map(({ name, stored, unit }) => ({ name, stored, unit }));
}

type Material = Readonly<{
  record: DebriefRecord;
  reconstruction: Reconstruction;
  samplesRoot: string;
  derivedFolder: string | null;
  /** Derived columns that the figures of the document show. */
  shown: readonly string[];
}>;

/** The columns in the order derived, then sources by file; nothing for a folder of which none is cited. */
export async function citedColumns(
  material: Material,
  { samples }: PackageInputs,
): Promise<readonly CitedColumns[]> {
  const { record, reconstruction, samplesRoot, derivedFolder, shown } = material;
  const all: CitedColumns[] = [];
  if (derivedFolder !== null) {
    const wanted = new Set([...citedOf(record, null).names, ...shown]);
    const columns = chosen(await columnsOf(samplesRoot, derivedFolder), wanted);
    const whole = { source: null, offsetS: 0, rate: 1, fromS: null, toS: null };
    all.push({ folder: derivedFolder, columns, ...whole });
  }
  for (const { file, folder } of samples) {
    const { names, fromS, toS } = citedOf(record, file);
    const clock = reconstruction.sources.find((each) => each.file === file)?.clock;
    all.push({
      folder,
      source: file,
      columns: chosen(await columnsOf(samplesRoot, folder), names),
      offsetS: clock?.offsetS.value ?? 0,
      rate: 1 + (clock?.driftPpm.value ?? 0) * 1e-6,
      fromS,
      toS,
    });
  }
  return all.filter(({ columns }) => columns.length > 0);
}
