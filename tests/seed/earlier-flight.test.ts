import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { readSessionFolder } from '@/lib/server/session-folder';
import { earlierFindings } from '@/seed/earlier-findings';
import { earlierFiles, earlierMoments, flyEarlier } from '@/seed/earlier-flight';
import { writeDemoFolder } from '@/seed/make-demo';
import { RULES_YAML } from '@/seed/session-files';

const truth = flyEarlier();
const files = earlierFiles(truth);
const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
let scratch = '';
let read: Readonly<{ reconstruction: Reconstruction; issues: readonly unknown[] }> | null = null;

function flown(): Reconstruction {
  if (read === null) throw new Error('the flight before was not read');
  return read.reconstruction;
}

beforeAll(async () => {
  scratch = await mkdtemp(path.join(tmpdir(), 'wakeline-before-'));
  await writeDemoFolder(path.join(scratch, 'flight'), files);
  const samplesRoot = path.join(scratch, 'samples');
  const { input, issues } = await readSessionFolder(path.join(scratch, 'flight'), { samplesRoot });
  if (input === null) return;
  const { reconstruction } = reconstruct(input, { engine: 'test', sha256 });
  read = { reconstruction, issues: issues.filter(({ severity }) => severity !== 'note') };
});
afterAll(async () => {
  await rm(scratch, { recursive: true, force: true });
});

/** The truth has no faults: what jets and tank count rests for minutes, at a row a second. */
test('it is read without a warning, and no fault is found where none was planted', () => {
  expect(read?.issues).toEqual([]);
  expect(flown().dataQuality).toEqual([]);
});

test('its holds and moves are those of the truth, in one piece each', () => {
  const { approachS, holdNearS, finalS, contactS } = earlierMoments(truth);
  const phases = flown().phases.map(({ step, startS }) => [step, startS.value] as const);
  expect(phases.map(([step]) => step)).toEqual(['hold-300', 'to-40', 'hold-40', 'final']);
  [0, approachS, holdNearS, finalS].forEach((trueS, index) => {
    // Guidance asks for the speed that ends a hold within seconds, and slows down before one begins.
    expect(Math.abs((phases[index]?.[1] ?? Number.NaN) - trueS)).toBeLessThan(5);
  });
  const contact = flown().contact?.timeS;
  expect(Math.abs((contact?.value ?? Number.NaN) - contactS)).toBeLessThan(0.5);
});

test('the next flight has every rule of it, and those that its findings asked for', () => {
  const ids = (text: string) => [...text.matchAll(/^ {2}- id: (.*)$/gm)].map(([, id]) => id);
  const before = ids(files.get('rules.yaml') ?? '');
  expect(flown().rules.map(({ id }) => id)).toEqual(before);
  const added = ids(RULES_YAML).filter((id) => !before.includes(id));
  expect(added).toEqual(['final-rate', 'armed-first', 'hold-40-length']);
  expect(RULES_YAML.match(/a lesson of Wherry 1/g)).toHaveLength(added.length);
});

test('the stretches of its findings lie inside the flight', () => {
  for (const { fromS, toS } of earlierFindings(truth)) {
    expect(fromS).toBeGreaterThan(0);
    expect(toS).toBeGreaterThan(fromS);
    expect(toS).toBeLessThan(flown().session.durationS.value ?? Number.NaN);
  }
});
