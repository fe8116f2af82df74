/** Stretches beyond a value in one session or in all of the team, each with the picture of its channel. */
import {
  RATE_REACH_S,
  type SeekCondition,
  type SoughtStretch,
  seekStretches,
  slopes,
} from '@/lib/core/series/seek-stretches';
import { localActor } from '../actor';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { columnsOf } from '../samples/columns-of';
import { readWindow } from '../samples/read-window';
import { type ChannelRow, loadChannels } from './load-channels';
import { loadEnvelope } from './load-envelope';

export type SeekRequest = Readonly<{
  sessionId: string;
  /** Key of a channel of that session. */
  key: string;
  condition: SeekCondition;
  over: 'this' | 'all';
}>;

export type SoughtIn = Readonly<{
  sessionId: string;
  title: string;
  key: string;
  /** SI, of the channel itself. */
  unit: string;
  sources: readonly Readonly<{ file: string; sha256: string }>[];
  count: number;
  /** The first ones, in time order, each with its channel about it. */
  stretches: readonly (SoughtStretch &
    Readonly<{ trace: Readonly<{ tS: number[]; low: number[]; high: number[] }> }>)[];
}>;

/** Rows held at once. */
const ROWS_A_PIECE = 500_000;
/** Stretches told of one session; their number is told in any case. */
const MOST_SHOWN = 25;
const MOST_SESSIONS = 200;
const TRACE_PIXELS = 120;
const LEAST_ROOM_S = 5;

/**
 * Looks through one channel, or in every session through the one that is the same: of the same key, or the
 * same quantity of another source.
 *
 * @returns null where the session or its channel is not there; sessions without the channel are left out
 */
export async function loadSought(request: SeekRequest): Promise<readonly SoughtIn[] | null> {
  const { sessionId, key, over } = request;
  const own = (await loadChannels(sessionId)).find((channel) => channel.key === key);
  if (own === undefined) return null;
  const sessions = await db().session.findMany({
    where: { teamId: localActor().teamId, ...(over === 'this' ? { id: sessionId } : {}) },
    orderBy: { zeroTaiNs: 'desc' },
    take: MOST_SESSIONS,
    select: {
      id: true,
      title: true,
      sources: { where: { superseded: null }, select: { file: true, sha256: true, type: true } },
    },
  });
  const found: SoughtIn[] = [];
  for (const { id, title, sources } of sessions) {
    const channel = sameChannel(await loadChannels(id), own);
    if (channel === undefined) continue;
    const stretches = await seekIn(channel, request.condition);
    if (stretches.length === 0 && id !== sessionId) continue;
    const behind = sources.filter(({ file, type }) =>
      channel.source === null ? type === 'telemetry' : file === channel.source,
    );
    found.push({
      sessionId: id,
      title,
      key: channel.key,
      unit: channel.unit,
      sources: behind.map(({ file, sha256 }) => ({ file, sha256 })),
      count: stretches.length,
      stretches: await Promise.all(
        stretches.slice(0, MOST_SHOWN).map(async (stretch) => {
          return { ...stretch, trace: await traceAbout(id, channel.key, stretch) };
        }),
      ),
    });
  }
  // The session that is looked at comes first.
  return found.sort(
    (a, b) => Number(b.sessionId === sessionId) - Number(a.sessionId === sessionId),
  );
}

function sameChannel(channels: readonly ChannelRow[], own: ChannelRow): ChannelRow | undefined {
  const alike = channels.filter((channel) => channel.unit === own.unit);
  return (
    alike.find((channel) => channel.key === own.key) ??
    (own.source === null
      ? undefined
      : alike.find((channel) => channel.source !== null && channel.as === own.as))
  );
}

/** `last`: whether the row at the end of the span belongs to it, or to the span after. */
type Span = Readonly<{ startS: number; endS: number; last: 'with' | 'without' }>;

/** Shorter spans are not halved: no channel has so many rows in one, s. */
const SHORTEST_S = 0.01;

/** Spans of equal time, as many as the rows ask for; the first is taken from the end of the list. */
function spansOf(fromS: number, toS: number, rows: number): Span[] {
  const pieces = Math.max(1, Math.ceil(rows / ROWS_A_PIECE));
  const pieceS = (toS - fromS) / pieces;
  return Array.from({ length: pieces }, (_, piece): Span => {
    const startS = fromS + piece * pieceS;
    const isLast = piece === pieces - 1;
    return { startS, endS: isLast ? toS : startS + pieceS, last: isLast ? 'with' : 'without' };
  }).reverse();
}

/**
 * The whole channel in pieces of the time they span; a rate needs a second beyond each end of a piece.
 * Where rows crowd, a piece holds more of them than are read at once and is halved.
 */
async function seekIn(
  channel: ChannelRow,
  condition: SeekCondition,
): Promise<readonly SoughtStretch[]> {
  const { offsetS, rate, stepS, folder, name } = channel;
  const { fromS, toS, rows } = await columnsOf(samplesRoot(), folder);
  if (fromS === null || toS === null) return [];
  const seeker = seekStretches(condition, stepS);
  const reachS = condition.of === 'rate' ? (RATE_REACH_S * 1.01) / rate : 0;
  const spans = spansOf(fromS, toS, rows);
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const { startS, endS, last } = span;
    const read = await readWindow(samplesRoot(), folder, {
      columns: [name],
      fromS: startS - reachS,
      toS: endS + reachS,
      maxRows: 8 * ROWS_A_PIECE,
    });
    if (read.cut && endS - startS > SHORTEST_S + 4 * reachS) {
      const middleS = (startS + endS) / 2;
      spans.push({ startS: middleS, endS, last }, { startS, endS: middleS, last: 'without' });
      continue;
    }
    const samples = {
      tS: read.tS.map((ownS) => offsetS + ownS * rate),
      values: read.columns[0]?.values ?? new Float64Array(),
    };
    const values = condition.of === 'rate' ? slopes(samples) : samples.values;
    // A row on the edge of two pieces belongs to the later one, the last row of all to the last.
    const from = firstAt(read.tS, startS, 'at');
    const to = firstAt(read.tS, endS, last === 'with' ? 'after' : 'at');
    seeker.feed({ tS: samples.tS.subarray(from, to), values: values.subarray(from, to) });
  }
  return seeker.finish();
}

function firstAt(tS: Float64Array, atS: number, which: 'at' | 'after'): number {
  const found = tS.findIndex((each) => (which === 'at' ? each >= atS : each > atS));
  return found === -1 ? tS.length : found;
}

async function traceAbout(
  sessionId: string,
  key: string,
  { fromS, toS }: SoughtStretch,
): Promise<Readonly<{ tS: number[]; low: number[]; high: number[] }>> {
  const roomS = Math.max(LEAST_ROOM_S, 0.6 * (toS - fromS));
  const answer = await loadEnvelope(sessionId, {
    keys: [key],
    fromS: fromS - roomS,
    toS: toS + roomS,
    pixels: TRACE_PIXELS,
  });
  const group = answer?.groups[0];
  const column = group?.columns[0];
  if (group === undefined || column === undefined) return { tS: [], low: [], high: [] };
  const rows = Array.from(group.tS.keys()).filter((row) => !Number.isNaN(column.minimum[row]));
  const pick = (values: Float64Array): number[] => rows.map((row) => values[row] ?? 0);
  return { tS: pick(group.tS), low: pick(column.minimum), high: pick(column.maximum) };
}
