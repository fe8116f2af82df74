/** What a published debrief quotes and the session's newest reconstruction no longer says. */
import { cache } from 'react';
import { statedPolls } from '@/lib/core/debrief/asked-polls';
import { polledInstants } from '@/lib/core/debrief/package/recompute-record';
import { pollFigures, sameInstants } from '@/lib/core/debrief/poll-place';
import type { DebriefRecord } from '@/lib/core/debrief/record';
import { type TouchedNumber, touchedNumbers } from '@/lib/core/debrief/touched-numbers';
import type { Figure } from '@/lib/core/figure';
import { underOlderKeys } from '@/lib/core/reconstruction/changed-figures';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { localActor } from '../actor';
import { db } from '../db';
import { awaitStates } from '../polls/known-states';
import { loadMaterialOutline, outlineMaterial } from '../publish/load-material';
import { loadRecord } from '../publish/load-record';
import { reconstructionFromBody } from '../rows';

/** Which computation is the newest, and since when. */
export type ComputedStamp = Readonly<{
  inputsSha256: string;
  engine: string;
  computedAtIso: string;
}>;

/** @returns null where the session is gone or was never reconstructed */
export const loadComputedStamp = cache(async (sessionId: string): Promise<ComputedStamp | null> => {
  const row = await db().reconstruction.findFirst({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: { createdAt: 'desc' },
    select: { inputsSha256: true, engine: true, createdAt: true },
  });
  if (row === null) return null;
  const { createdAt, ...rest } = row;
  return { ...rest, computedAtIso: createdAt.toISOString() };
});

type Both = Readonly<{ before: Reconstruction; now: Reconstruction }>;

/** `unknown`: beginnings of keys of instants whose state could not be computed; the log says why. */
type FiguresNow = Readonly<{ figures: ReadonlyMap<string, Figure>; unknown: readonly string[] }>;

/** What was known at the record's instants as it is now, under the keys that the record has. */
async function polledFigures(
  sessionId: string,
  record: DebriefRecord,
  { before, now }: Both,
): Promise<FiguresNow> {
  const places = sameInstants(polledInstants(record, before), before, now);
  const states = await awaitStates(
    sessionId,
    places.map(({ atS }) => atS),
  );
  return {
    figures: new Map(statedPolls(places, states).flatMap((poll) => pollFigures(poll, now))),
    unknown: places.filter(({ atS }) => !states.has(atS)).map(({ key }) => `${key}.`),
  };
}

/** The figures as they are now, under the keys that a published debrief quotes them by. */
async function figuresFor(sessionId: string, record: DebriefRecord): Promise<FiguresNow | null> {
  const { engine, inputsSha256 } = record;
  const outline = await loadMaterialOutline(sessionId);
  if (outline === null) return null;
  const { figures, reconstruction: now } = await outlineMaterial(outline);
  const where = { sessionId_inputsSha256_engine: { sessionId, inputsSha256, engine } };
  const then = await db().reconstruction.findUnique({ where, select: { body: true } });
  const before = then === null ? now : reconstructionFromBody(then.body);
  const renamed = then === null ? figures : underOlderKeys(figures, before, now);
  const polled = await polledFigures(sessionId, record, { before, now });
  return { figures: new Map([...renamed, ...polled.figures]), unknown: polled.unknown };
}

/** Numbers of one record that differ now; null where nothing can be held against it. */
export async function loadTouchedNumbers(
  sessionId: string,
  record: DebriefRecord,
): Promise<readonly TouchedNumber[] | null> {
  const now = await figuresFor(sessionId, record);
  return now === null ? null : touchedNumbers(record.blocks, now.figures, now.unknown);
}

export type TouchedSince = Readonly<{
  sessionId: string;
  computedAtIso: string;
  numbers: readonly TouchedNumber[];
}>;

/**
 * What has become of a published revision's numbers since it was published.
 *
 * @returns null where its session is gone or was not computed otherwise since
 */
export async function loadTouchedSince(
  number: number,
  revision: number,
): Promise<TouchedSince | null> {
  const found = await loadRecord(number, revision);
  const sessionId = found?.publication.sessionId ?? null;
  const record = found?.record ?? null;
  if (sessionId === null || record === null) return null;
  const stamp = await loadComputedStamp(sessionId);
  const isSame = stamp?.inputsSha256 === record.inputsSha256 && stamp.engine === record.engine;
  if (stamp === null || isSame) return null;
  const numbers = (await loadTouchedNumbers(sessionId, record)) ?? [];
  return { sessionId, computedAtIso: stamp.computedAtIso, numbers };
}
