/** States at instants that are kept in memory: asked for once, computed off the request thread. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { localActor } from '../actor';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { currentEngine } from '../jobs/built';
import type { SessionEdition } from '../jobs/session-files';
import { type StoredInput, type WordsSince, withCorrections } from '../jobs/stored-input';
import { readUsedInput } from '../jobs/used-input';
import { logLine } from '../log-line';
import { loadWordsSince } from '../queries/load-corrections';
import { pollInChild } from './poll-in-child';

/** One state: there, on its way, or not to be had, as the log says. */
export type KnownState =
  | Readonly<{ kind: 'known'; state: PollState }>
  | Readonly<{ kind: 'on its way' }>
  | Readonly<{ kind: 'failed' }>;

type Kept = { now: KnownState; done: Promise<unknown>; failedAtMs: number };

/** So many states are kept; two debriefs with as many polls as one may have. */
const KEPT = 48;
/** What failed is tried again when it is asked for again, but not at once. */
const AGAIN_AFTER_MS = 3000;

/** One for the process: pages and jobs are bundled apart, and each would have its own. */
const shared: typeof globalThis & { wakelinePollStates?: Map<string, Kept> } = globalThis;
shared.wakelinePollStates ??= new Map();
const kept = shared.wakelinePollStates;

type Asked = Readonly<{ edition: SessionEdition; words: WordsSince; key: string }>;

/** Everything that a state depends on besides its instant; null where there is no such session. */
async function loadAsked(sessionId: string): Promise<Asked | null> {
  const row = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: { id: true, filesNumber: true, planVersionId: true, ruleSetVersionId: true },
  });
  if (row === null) return null;
  const words = await loadWordsSince(sessionId);
  return { edition: row, words, key: JSON.stringify([row, currentEngine(), words]) };
}

const storedOf = async ({ edition, words }: Asked): Promise<StoredInput> =>
  withCorrections(await readUsedInput(edition), words);

function isUsable(entry: Kept | undefined): entry is Kept {
  if (entry === undefined) return false;
  return entry.now.kind !== 'failed' || performance.now() - entry.failedAtMs < AGAIN_AFTER_MS;
}

function keep(key: string, entry: Kept): void {
  kept.delete(key);
  kept.set(key, entry);
  for (const oldest of kept.keys()) {
    if (kept.size <= KEPT) break;
    kept.delete(oldest);
  }
}

/** Starts one process for all that are not there. */
function start(asked: Asked, instants: readonly number[]): void {
  const work = storedOf(asked).then((stored) =>
    pollInChild({ stored, samplesRoot: samplesRoot(), instants }),
  );
  instants.forEach((atS, index) => {
    const entry: Kept = { now: { kind: 'on its way' }, done: Promise.resolve(), failedAtMs: 0 };
    const fail = () => {
      entry.now = { kind: 'failed' };
      entry.failedAtMs = performance.now();
    };
    entry.done = work.then((states) => {
      const state = states[index];
      if (state === undefined) fail();
      else entry.now = { kind: 'known', state };
    }, fail);
    keep(JSON.stringify([asked.key, atS]), entry);
  });
  work.catch((error: unknown) => {
    logLine('poll-not-computed', {
      session: asked.edition.id,
      instants: instants.join(' '),
      fault: String(error),
    });
  });
}

async function entriesOf(
  sessionId: string,
  instants: readonly number[],
): Promise<readonly (readonly [number, Kept])[]> {
  if (instants.length === 0) return [];
  const asked = await loadAsked(sessionId);
  if (asked === null) return [];
  const entryAt = (atS: number) => kept.get(JSON.stringify([asked.key, atS]));
  const missing = [...new Set(instants)].filter((atS) => !isUsable(entryAt(atS)));
  if (missing.length > 0) start(asked, missing);
  return instants.flatMap((atS): (readonly [number, Kept])[] => {
    const entry = entryAt(atS);
    return entry === undefined ? [] : [[atS, entry]];
  });
}

/**
 * What is there now; what is not is started and not waited for.
 *
 * @param instants session time, s
 */
export async function askStates(
  sessionId: string,
  instants: readonly number[],
): Promise<ReadonlyMap<number, KnownState>> {
  const entries = await entriesOf(sessionId, instants);
  return new Map(entries.map(([atS, { now }]) => [atS, now]));
}

/** The states once they are computed; one that could not be is left out, and the log says why. */
export async function awaitStates(
  sessionId: string,
  instants: readonly number[],
): Promise<ReadonlyMap<number, PollState>> {
  const entries = await entriesOf(sessionId, instants);
  await Promise.all(entries.map(([, { done }]) => done));
  return new Map(
    entries.flatMap(([atS, { now }]) => (now.kind === 'known' ? [[atS, now.state] as const] : [])),
  );
}

/** Starts what is not there and leaves it at that; whoever asks for it later finds it. */
export function startStates(sessionId: string, instants: readonly number[]): void {
  askStates(sessionId, instants).catch((error: unknown) => {
    logLine('poll-not-started', { session: sessionId, fault: String(error) });
  });
}

/**
 * The states that are there or on their way, and the input that the others can be computed from in
 * another process.
 */
export async function statesOrInput(
  sessionId: string,
  instants: readonly number[],
): Promise<Readonly<{ known: ReadonlyMap<number, PollState>; stored: StoredInput | null }>> {
  const asked = instants.length === 0 ? null : await loadAsked(sessionId);
  if (asked === null) return { known: new Map(), stored: null };
  const entryAt = (atS: number) => kept.get(JSON.stringify([asked.key, atS]));
  await Promise.all(instants.map((atS) => entryAt(atS)?.done));
  const known = new Map(
    instants.flatMap((atS) => {
      const now = entryAt(atS)?.now;
      return now?.kind === 'known' ? [[atS, now.state] as const] : [];
    }),
  );
  const isWhole = instants.every((atS) => known.has(atS));
  return { known, stored: isWhole ? null : await storedOf(asked) };
}
