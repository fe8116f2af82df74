import { expect, test } from 'vitest';
import { GET as getChanges } from '@/app/sessions/[sessionId]/timeline/changes/route';
import { GET as getDifferences } from '@/app/sessions/[sessionId]/timeline/differences/route';
import { GET as getEnvelope } from '@/app/sessions/[sessionId]/timeline/envelope/route';
import { GET as getRates } from '@/app/sessions/[sessionId]/timeline/rates/route';
import { GET as getRows } from '@/app/sessions/[sessionId]/timeline/rows/route';
import { GET as getSeek } from '@/app/sessions/[sessionId]/timeline/seek/route';
import { GET as getStretch } from '@/app/sessions/[sessionId]/timeline/stretch/route';
import { createAnnotation } from '@/lib/server/commands/create-annotation';
import { samplesRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { runCommand } from '@/lib/server/run-command';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { decodeEnvelope } from '@/lib/view/charts/envelope-wire';
import { isRatesView, isSoughtView } from '@/lib/view/checked-answers';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { expectWithin } from '../support/expect-within';
import { sampleDerived } from '../support/sample-derived';
import { sampleReconstruction } from '../support/sample-reconstruction';

freshDataDir();

const ID = 'session-1';

/** A session with the sample's derived columns in a real sample folder. */
async function addReconstructed(): Promise<void> {
  await addSession(ID);
  await db().reconstruction.create({
    data: {
      id: 'reconstruction-1',
      sessionId: ID,
      inputsSha256: 'a',
      engine: 'test',
      body: JSON.stringify(sampleReconstruction),
      derivedFolder: await writeDerived(samplesRoot(), sampleDerived),
    },
    select: { id: true },
  });
}

type Handler = (
  request: Request,
  context: Readonly<{ params: Promise<{ sessionId: string }> }>,
) => Promise<Response>;

function ask(handler: Handler, query: string, sessionId = ID): Promise<Response> {
  const request = new Request(`http://127.0.0.1/sessions/${sessionId}/timeline/x?${query}`);
  return handler(request, { params: Promise.resolve({ sessionId }) });
}

test('an envelope holds the least and greatest sample, and names what is not there', async () => {
  await addReconstructed();
  const response = await ask(getEnvelope, 'from=0&to=930&pixels=93&c=closing_rate&c=nothing');
  expect(response.headers.get('content-type')).toBe('application/octet-stream');
  const answer = decodeEnvelope(await response.arrayBuffer());
  expect(answer?.missing).toEqual(['nothing']);
  const column = answer?.groups[0]?.columns[0];
  expect(column?.key).toBe('closing_rate');
  // The sample's burst of 0.41 m/s from 200 to 203.8 s lies inside one pixel of 10 s.
  expect(Math.max(...(column?.maximum ?? []).filter((value) => !Number.isNaN(value)))).toBe(0.41);
  const atGap = answer?.groups[0]?.tS.findIndex((tS) => tS > 270 && tS < 280) ?? -1;
  expect(column?.minimum[atGap]).toBeNaN();
});

test('what cannot be read is refused with a sentence, an unknown session is not found', async () => {
  await addReconstructed();
  for (const query of [
    'from=0&pixels=100',
    'from=5&to=1&pixels=100',
    'from=0&to=1&pixels=1',
    'from=1&to=1&pixels=64',
    'from=0&to=Infinity&pixels=64',
    'from=-1e308&to=1e308&pixels=64',
    'from=0&to=1e-320&pixels=64',
    'from=0&to=1&pixels=-64',
    'from=0&to=1&pixels=1e9',
    `from=0&to=1&pixels=64${Array.from({ length: 65 }, (_, index) => `&c=${index}`).join('')}`,
  ]) {
    const response = await ask(getEnvelope, query);
    expect(response.status, query).toBe(400);
    expect(await response.text()).toMatch(/\.\n$/);
  }
  const gone = await ask(getEnvelope, 'from=0&to=1&pixels=64&c=range', 'nobody');
  expect(gone.status).toBe(404);
  expect((await ask(getRows, 'from=0&to=1', 'nobody')).status).toBe(404);
  expect((await ask(getStretch, 'from=0&to=1', 'nobody')).status).toBe(404);
});

test('rows come as statistics and as a file with every row', async () => {
  await addReconstructed();
  const table = await (await ask(getRows, 'from=100&to=200&c=range')).json();
  expect(table.table.statistics[0].count).toBe('101');
  const csv = await (await ask(getRows, 'from=100&to=200&c=range&format=csv')).text();
  const lines = csv.trimEnd().split('\r\n');
  expect(lines[0]).toBe('session_time_s,range [m]');
  expect(lines.length).toBe(102);
});

test('two cursors are answered from the store, an end between two rows too', async () => {
  await addReconstructed();
  const view = await (await ask(getDifferences, 'from=100.5&to=150.5&c=range')).json();
  expect(view.rows[0].label).toBe('Range');
  expect(view.rows[0].figures.map((each: { reason: string | null }) => each.reason)).toEqual(
    Array(6).fill(null),
  );
  expect((await ask(getDifferences, 'from=0&to=1&c=range', 'nobody')).status).toBe(404);
});

test('the rate of the range at the cursor is the closing rate there, and none over the gap', async () => {
  await addReconstructed();
  const rateAt = async (atS: number): Promise<string> => {
    const view: unknown = await (await ask(getRates, `at=${atS}&c=range&c=nothing`)).json();
    if (!isRatesView(view)) throw new Error('rates were expected');
    expect(view.rates.map(({ key }) => key)).toEqual(['range']);
    return view.rates[0]?.text ?? '';
  };
  const closing = sampleDerived.columns.find(({ name }) => name === 'closing_rate');
  for (const atS of [160, 500]) {
    const shown = Number((await rateAt(atS)).replace('\u2212', '-').replace(' m/s', ''));
    const there = closing?.values[sampleDerived.tS.indexOf(atS)] ?? Number.NaN;
    expectWithin(shown, -there, 1e-3, 'three decimals are shown, over spans of 1 s and of 2 s');
  }
  expect(await rateAt(275)).toBe('no rate');
  expect((await ask(getRates, 'at=1e11&c=range')).status).toBe(400);
  expect((await ask(getRates, 'at=1&c=range', 'nobody')).status).toBe(404);
});

test('the figures of a stretch come from the store', async () => {
  await addReconstructed();
  const view = await (await ask(getStretch, 'from=195&to=210')).json();
  const byKey = new Map(
    view.figures.map((each: { key: string; figure: { value: string } }) => [each.key, each.figure]),
  );
  expect(byKey.get('stretch.closing_rate_max_mps')).toMatchObject({ value: '0.410' });
  expect(byKey.get('stretch.rules[closing-rate].beyond_s')).toMatchObject({ value: '3.8' });
  expect(view.words.map((word: { text: string }) => word.text)).toEqual([
    'Flight: Your rate is high.',
  ]);
});

test('a remark made elsewhere is told within two seconds', async () => {
  await addReconstructed();
  const abort = new AbortController();
  const request = new Request('http://127.0.0.1/changes', { signal: abort.signal });
  const response = await getChanges(request, { params: Promise.resolve({ sessionId: ID }) });
  const reader = response.body?.getReader();
  if (reader === undefined) throw new Error('a stream was expected');
  const next = async (): Promise<string> => new TextDecoder().decode((await reader.read()).value);
  expect(await next()).toMatch(/^event: remarks/);
  const saved = await runCommand(createAnnotation, {
    sessionId: ID,
    text: 'Sun in the camera',
    fromS: 1,
    toS: 2,
    channels: [],
  });
  expect(saved.ok).toBe(true);
  const startedMs = performance.now();
  let text = await next();
  while (text.startsWith(':')) text = await next();
  expect(text).toMatch(/^event: remarks/);
  expect(performance.now() - startedMs).toBeLessThan(2000);
  abort.abort();
});

test('stretches beyond a value are those of a walk along the rows, here and in all sessions', async () => {
  await addReconstructed();
  const rate = sampleDerived.columns.find(({ name }) => name === 'closing_rate');
  // Runs of rows above 0.4 m/s that last 2 s, row by row.
  const runs: number[][] = [];
  sampleDerived.tS.forEach((tS, row) => {
    if (!((rate?.values[row] ?? 0) > 0.4)) return;
    const last = runs.at(-1);
    if (last !== undefined && sampleDerived.tS[row - 1] === last.at(-1)) last.push(tS);
    else runs.push([tS]);
  });
  const long = runs.filter((run) => (run.at(-1) ?? 0) - (run[0] ?? 0) >= 2);
  expect(long.length).toBeGreaterThan(0);
  for (const over of ['this', 'all']) {
    const response = await ask(getSeek, `c=closing_rate&sense=above&limit=0.4&for=2&over=${over}`);
    const found = await response.json();
    expect(isSoughtView(found)).toBe(true);
    const rows: readonly { fromS: number; toS: number }[] = found.sessions[0].rows;
    expect(rows).toHaveLength(long.length);
    // An edge lies between the last row inside and the first outside.
    expect(Math.abs((rows[0]?.fromS ?? 0) - (long[0]?.[0] ?? 0))).toBeLessThanOrEqual(1);
    expect(found.sessions[0].rows[0].trace.path).toMatch(/^M/);
  }
  const fast = await (await ask(getSeek, 'c=closing_rate&of=rate&limit=1e6')).json();
  expect(fast.sessions[0].count).toBe(0);
});

test('a search that cannot be done is refused with a sentence', async () => {
  await addReconstructed();
  for (const query of ['c=closing_rate', 'c=closing_rate&limit=x', 'c=closing_rate&limit=1&for=-1'])
    expect((await ask(getSeek, query)).status).toBe(400);
  expect((await ask(getSeek, 'c=nothing&limit=1')).status).toBe(404);
  expect((await ask(getSeek, 'c=closing_rate&limit=1', 'nobody')).status).toBe(404);
});
