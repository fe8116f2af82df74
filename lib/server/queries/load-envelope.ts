/** The envelope of any columns of a session over a window, on session time. */
import type { EnvelopeAnswer, EnvelopeGroup } from '@/lib/view/charts/envelope-wire';
import { samplesRoot } from '../data-folders';
import { keptEnvelope } from '../samples/kept-envelopes';
import { type ChannelRow, loadChannels } from './load-channels';

export type EnvelopeRequest = Readonly<{
  keys: readonly string[];
  fromS: number;
  toS: number;
  pixels: number;
}>;

/** Samples beside the window that a line to its edge needs. */
const EDGE_STEPS = 2;

/** @returns null when there is no such session or it has no samples at all */
export async function loadEnvelope(
  sessionId: string,
  request: EnvelopeRequest,
): Promise<EnvelopeAnswer | null> {
  const channels = await loadChannels(sessionId);
  if (channels.length === 0) return null;
  const wanted = channels.filter((channel) => request.keys.includes(channel.key));
  const folders = new Map<string, ChannelRow[]>();
  for (const channel of wanted)
    folders.set(channel.folder, [...(folders.get(channel.folder) ?? []), channel]);
  const read = await Promise.all([...folders.values()].map((rows) => readGroup(rows, request)));
  const known = new Set(wanted.map((channel) => channel.key));
  return {
    fromS: request.fromS,
    toS: request.toS,
    pixels: request.pixels,
    exact: read.every((each) => each.exact),
    groups: read.map((each) => each.group),
    missing: request.keys.filter((key) => !known.has(key)),
  };
}

async function readGroup(
  rows: readonly ChannelRow[],
  request: EnvelopeRequest,
): Promise<Readonly<{ group: EnvelopeGroup; exact: boolean }>> {
  const first = rows[0];
  if (first === undefined) return { group: { tS: new Float64Array(), columns: [] }, exact: true };
  const pixelS = (request.toS - request.fromS) / request.pixels;
  const stepS = rows.reduce((most, row) => Math.max(most, row.stepS ?? 0), 0);
  const beside = Math.min(request.pixels, Math.ceil((EDGE_STEPS * stepS) / pixelS));
  const pixels = request.pixels + 2 * beside;
  const ownTime = (sessionS: number): number => (sessionS - first.offsetS) / first.rate;
  const answer = await keptEnvelope(samplesRoot(), first.folder, {
    columns: rows.map((row) => row.name),
    fromS: ownTime(request.fromS - beside * pixelS),
    toS: ownTime(request.toS + beside * pixelS),
    pixels,
  });
  const tS = Float64Array.from(
    { length: pixels },
    (_, pixel) => request.fromS + (pixel - beside + 0.5) * pixelS,
  );
  const columns = rows.flatMap((row) => {
    const series = answer.series.find((each) => each.column === row.name);
    return series === undefined
      ? []
      : {
          key: row.key,
          unit: row.unit,
          stepS: row.stepS,
          minimum: series.min,
          maximum: series.max,
        };
  });
  return { group: { tS, columns }, exact: answer.exact };
}
