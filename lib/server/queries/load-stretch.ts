/** All rows of a stretch, for its figures, its table and its file. */
import type { CapturedFigure } from '@/lib/core/findings/finding';
import { stretchFigures } from '@/lib/core/findings/stretch-figures';
import type { ChannelSamples } from '@/lib/core/findings/stretch-rows';
import { wordsMeanwhile } from '@/lib/core/findings/words-meanwhile';
import type {
  DerivedColumns,
  Reconstruction,
  SessionEvent,
} from '@/lib/core/reconstruction/reconstruction';
import { limitsOfRule } from '@/lib/core/session/limit-columns';
import { samplesRoot } from '../data-folders';
import { readWindow } from '../samples/read-window';
import { type ChannelRow, loadChannels } from './load-channels';
import { loadReconstruction } from './load-reconstruction';

type Stretch = Readonly<{ fromS: number; toS: number }>;

/** Columns of one sample folder over a stretch; `tS` is session time. */
export type StretchColumns = Readonly<{
  tS: Float64Array;
  columns: readonly Readonly<{ channel: ChannelRow; values: Float64Array }>[];
  /** True when the stretch holds more rows than were read. */
  cut: boolean;
}>;

/** More rows than this of a stretch are not held in memory: some six hours at 100 Hz. */
const MOST_ROWS = 2_000_000;

/** The figures of a stretch and what was said meanwhile. @returns null when nothing is computed yet */
export async function loadStretch(
  sessionId: string,
  stretch: Stretch,
): Promise<Readonly<{
  figures: readonly CapturedFigure[];
  words: readonly SessionEvent[];
}> | null> {
  const [reconstruction, channels] = await Promise.all([
    loadReconstruction(sessionId),
    loadChannels(sessionId),
  ]);
  if (reconstruction === null) return null;
  const wanted = neededChannels(reconstruction, channels);
  const read = await readColumns(wanted, withEdges(stretch, wanted));
  const derived = read.find((each) => each.columns.some(({ channel }) => channel.source === null));
  const samples = read.flatMap((each) =>
    each.columns.flatMap(({ channel, values }): ChannelSamples[] =>
      channel.source === null
        ? []
        : [
            {
              source: channel.source,
              name: channel.name,
              as: channel.as,
              unit: channel.unit,
              tS: each.tS,
              values,
            },
          ],
    ),
  );
  const figures = stretchFigures({
    reconstruction,
    derived: derivedColumns(derived),
    channels: samples,
    fromS: stretch.fromS,
    toS: stretch.toS,
  });
  return { figures, words: wordsMeanwhile(reconstruction, stretch) };
}

/** Rows of chosen columns over a stretch, one entry a sample folder. */
export async function loadStretchColumns(
  sessionId: string,
  request: Stretch & Readonly<{ keys: readonly string[] }>,
): Promise<readonly StretchColumns[]> {
  const channels = await loadChannels(sessionId);
  return readColumns(
    channels.filter((channel) => request.keys.includes(channel.key)),
    request,
  );
}

/** The same with a row beyond each end, for values at the ends. */
export async function loadEdgedColumns(
  sessionId: string,
  request: Stretch & Readonly<{ keys: readonly string[] }>,
): Promise<readonly StretchColumns[]> {
  const channels = await loadChannels(sessionId);
  const wanted = channels.filter((channel) => request.keys.includes(channel.key));
  return readColumns(wanted, withEdges(request, wanted));
}

/** Derived columns; the propellant; and what a rule is about where that is not derived. */
function neededChannels(
  reconstruction: Reconstruction,
  channels: readonly ChannelRow[],
): readonly ChannelRow[] {
  const derived = channels.filter((channel) => channel.source === null);
  const quantities = new Set(['propellant_mass']);
  for (const rule of reconstruction.ruleSet) {
    const limits = limitsOfRule(rule);
    if (limits !== null && !derived.some(({ name }) => name === limits.quantity))
      quantities.add(limits.quantity);
  }
  return [
    ...derived,
    ...channels.filter((channel) => channel.source !== null && quantities.has(channel.as)),
  ];
}

/** A value at an edge needs the row beyond it too. */
function withEdges(stretch: Stretch, channels: readonly ChannelRow[]): Stretch {
  const stepS = channels.reduce((most, channel) => Math.max(most, channel.stepS ?? 0), 0);
  return { fromS: stretch.fromS - 8 * stepS, toS: stretch.toS + 8 * stepS };
}

async function readColumns(
  channels: readonly ChannelRow[],
  stretch: Stretch,
): Promise<readonly StretchColumns[]> {
  const folders = new Map<string, ChannelRow[]>();
  for (const channel of channels)
    folders.set(channel.folder, [...(folders.get(channel.folder) ?? []), channel]);
  return Promise.all(
    [...folders].map(async ([folder, rows]) => {
      const { offsetS = 0, rate = 1 } = rows[0] ?? {};
      const window = await readWindow(samplesRoot(), folder, {
        columns: rows.map((row) => row.name),
        fromS: (stretch.fromS - offsetS) / rate,
        toS: (stretch.toS - offsetS) / rate,
        maxRows: MOST_ROWS,
      });
      return {
        tS: window.tS.map((ownS) => offsetS + ownS * rate),
        columns: rows.flatMap((channel) => {
          const values = window.columns.find((each) => each.column === channel.name)?.values;
          return values === undefined ? [] : { channel, values };
        }),
        cut: window.cut,
      };
    }),
  );
}

function derivedColumns(read: StretchColumns | undefined): DerivedColumns {
  return {
    tS: read?.tS ?? new Float64Array(),
    columns: (read?.columns ?? []).map(({ channel, values }) => ({
      name: channel.name,
      label: channel.name,
      unit: channel.unit,
      values,
    })),
  };
}
