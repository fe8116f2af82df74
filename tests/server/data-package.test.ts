import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { recompute } from '@/lib/cli/recompute';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import {
  type AgainComputed,
  citedNumbers,
  recomputeRecord,
} from '@/lib/core/debrief/package/recompute-record';
import { instantPlace, pollsOf, type StatedPoll } from '@/lib/core/debrief/poll-place';
import { makeRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import type { SessionInput } from '@/lib/core/session/session-input';
import { writePackage } from '@/lib/server/publish/package/write-package';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { readSessionFolder } from '@/lib/server/session-folder';
import { unzip } from '@/lib/server/uploads/unzip';
import { expectWithin } from '../support/expect-within';
import { countingIds } from '../support/sample-material';
import { folderOnDisk, smallSession } from '../support/small-session';

const root = mkdtempSync(path.join(tmpdir(), 'wakeline-package-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** With a poll a minute and a half after the start. */
const polledSession = () =>
  smallSession({
    'events.csv': 't,event,text\n40,go,Go for the final approach.\n90,poll,Go or no go?\n',
  });

const ENGINE = 'engine of this test';
const sha256 = (content: string | Buffer) => createHash('sha256').update(content).digest('hex');

type Published = Readonly<{
  folder: string;
  zip: string;
  sealed: SealedRecord;
  again: AgainComputed;
}>;

const PLACE = { number: 3, revision: 1, previousSha256: null, title: 'Small', publishedBy: 'N' };

/** Asked for beside the poll, which the draft shows of itself. */
const ASKED_S = 60;

function recordOf({ reconstruction, derived, polls }: AgainComputed): SealedRecord {
  const parts = { findings: [], plan: null, ruleSet: null, invented: true };
  const material = makeMaterial({ reconstruction, derived, polls: polls ?? [], ...parts });
  const drafted = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
  const attrs = { id: 'board', at: ASKED_S, caption: 'Asked' };
  const doc = { ...drafted, content: [...(drafted.content ?? []), { type: 'pollBoard', attrs }] };
  const resolved = resolveDocument(doc, material, BUILT_IN_BLOCKS);
  const publishedAtIso = '2027-04-06T13:05:00.000Z';
  return sealRecord(makeRecord(resolved, material, { ...PLACE, publishedAtIso }));
}

function pollsAt(input: SessionInput, reconstruction: Reconstruction): readonly StatedPoll[] {
  return [instantPlace(ASKED_S), ...pollsOf(reconstruction)].map((place) => {
    return { place, state: stateAtPoll(input, place.atS) };
  });
}

/** The small session, read, reconstructed, drafted and packed. */
async function publish(name: string): Promise<Published> {
  const folder = folderOnDisk(polledSession());
  const samplesRoot = path.join(root, `${name}-samples`);
  const read = await readSessionFolder(folder, { samplesRoot });
  if (read.input === null) throw new Error('the small session reads');
  const { reconstruction, derived } = reconstruct(read.input, { engine: ENGINE, sha256 });
  const { input } = read;
  const again = { reconstruction, derived, channels: [], polls: pollsAt(input, reconstruction) };
  const sealed = recordOf(again);
  const derivedFolder = await writeDerived(samplesRoot, derived);
  const samples = read.telemetry.map(({ file, folder: kept }) => ({ file, folder: kept }));
  const inputs = { folder, texts: [], recordings: { files: [], names: [] }, samples };
  const shown = ['range', 'closing_rate'];
  const zip = path.join(root, `${name}.zip`);
  await writePackage(
    { sealed, reconstruction, samplesRoot, derivedFolder, shown, inputs },
    { work: path.join(root, `${name}-work`), target: zip },
  );
  return { folder, zip, sealed, again };
}

/** Exit code and printed lines of a recomputation. */
async function computed(zip: string, session: string | null = null) {
  const lines: string[] = [];
  const log = vi.spyOn(console, 'log').mockImplementation((line: string) => void lines.push(line));
  const complain = vi
    .spyOn(console, 'error')
    .mockImplementation((line: string) => void lines.push(line));
  try {
    return {
      ends: await recompute({ file: zip, session, engine: ENGINE }),
      said: lines.join('\n'),
    };
  } finally {
    log.mockRestore();
    complain.mockRestore();
  }
}

let honest: Published;
let unpacked = '';
beforeAll(async () => {
  honest = await publish('honest');
  unpacked = path.join(root, 'unpacked');
  expect(await unzip({ file: honest.zip, into: unpacked })).toEqual([]);
});

describe('a data package', () => {
  test('holds every file that it lists, by the system\u2019s own sha256sum', () => {
    const run = spawnSync('sha256sum', ['-c', 'SHA256SUMS'], { cwd: unpacked, encoding: 'utf8' });
    expect(run.stderr).toBe('');
    expect(run.status).toBe(0);
    expect(run.stdout).toMatch(/record\.json: OK/);
    expect(run.stdout).toMatch(/session\/telemetry\.csv: OK/);
  });

  test('has the cited samples with the values of the source file, on session time', () => {
    const csv = readFileSync(path.join(unpacked, 'data/1-telemetry.csv.csv'), 'utf8').split('\n');
    const header = csv[0]?.split(',') ?? [];
    const source = (smallSession().get('telemetry.csv') ?? '').trim().split('\n');
    const at = source[0]?.split(',').indexOf('x') ?? -1;
    const rows = new Map(
      source.slice(1).map((line) => [Number(line.split(',')[0]), line.split(',')]),
    );
    expect(header[0]).toBe('session_s');
    for (const line of [csv[1], csv[100], csv[300]]) {
      const cells = line?.split(',') ?? [];
      const row = rows.get(Number(cells[0]));
      expect(Number(cells[header.indexOf('x')])).toBe(Number(row?.[at]));
    }
  });

  test('is the same to the byte when it is made again', async () => {
    const again = await publish('again');
    expect(sha256(readFileSync(again.zip))).toBe(sha256(readFileSync(honest.zip)));
  });
});

describe('computed again', () => {
  test('each cited number is the one published', async () => {
    const { ends, said } = await computed(honest.zip);
    expect(said).toMatch(/Largest difference: 0/);
    expect(said).toContain(`${citedNumbers(honest.sealed.record.blocks).length} cited numbers`);
    expect(ends).toBe(0);
  });

  test('what was known at an instant and at a poll is among them', () => {
    const numbers = new Map(
      citedNumbers(honest.sealed.record.blocks).map(({ run }) => [run.key, run]),
    );
    // The generator of the small session: 30 m less 0.3 m/s from 40 s on, 1 and 2 cm to the side.
    const range = numbers.get(`polls[${ASKED_S}].range_m`)?.value;
    expectWithin(range, Math.hypot(24, 0.01, 0.02), 0.01, 'stamps of 0.2 s at 0.3 m/s, smoothed');
    const value = numbers.get('polls[events.csv:3].rules[closing-rate].value');
    expectWithin(value?.value, 0.3, 0.005, 'without noise, ends of a line over 2 s');
    expect(numbers.get('polls[events.csv:3].time_s')).toMatchObject({ value: 90, unit: 's' });
  });

  test('a margin that the data do not give is named, with both values', () => {
    const { reconstruction } = honest.again;
    const rules = reconstruction.rules.map((rule) =>
      rule.margin?.value == null
        ? rule
        : { ...rule, margin: { ...rule.margin, value: rule.margin.value + 0.001 } },
    );
    const { record } = recordOf({ ...honest.again, reconstruction: { ...reconstruction, rules } });
    const { differing, largest } = recomputeRecord(record, honest.again);
    expect(new Set(differing.map(({ key }) => key))).toEqual(
      new Set(['rules[closing-rate].margin']),
    );
    expect(largest?.difference).toBeCloseTo(0.001, 12);
  });

  test('a session folder in which one sample was changed gives other numbers', async () => {
    const text = readFileSync(path.join(honest.folder, 'telemetry.csv'), 'utf8');
    const folder = path.join(root, 'changed');
    mkdirSync(folder);
    for (const [name, each] of polledSession()) writeFileSync(path.join(folder, name), each);
    writeFileSync(path.join(folder, 'telemetry.csv'), text.replaceAll(',-0.3000,', ',-0.3100,'));
    const { ends, said } = await computed(honest.zip, folder);
    expect(said).toMatch(/differs: /);
    expect(ends).toBe(1);
  });

  test('what is no package ends with one sentence', async () => {
    const file = path.join(root, 'none.zip');
    writeFileSync(file, 'no archive');
    expect(await computed(file)).toMatchObject({ ends: 2, said: expect.stringMatching(/\.zip/) });
    expect((await computed(path.join(root, 'absent.zip'))).said).toMatch(/there is no such file/);
    expect(await computed(root)).toMatchObject({
      ends: 2,
      said: expect.stringMatching(/a folder/),
    });
  });
});
