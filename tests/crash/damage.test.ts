import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { damageFolder, type FolderFiles } from './damage';
import { runDamagedCase, smallFolder } from './damaged-case';

const base = smallFolder();
let scratch = '';
beforeAll(async () => {
  scratch = await mkdtemp(path.join(tmpdir(), 'wakeline-damage-'));
});
afterAll(async () => {
  await rm(scratch, { recursive: true, force: true });
});

function isSameFolder(left: FolderFiles, right: FolderFiles): boolean {
  const isSame = ([name, bytes]: [string, Buffer]) => right.get(name)?.equals(bytes) === true;
  return left.size === right.size && [...left].every(isSame);
}

test('the undamaged small folder is read and reconstructed', async () => {
  const whole = new Map(base);
  const outcome = await runDamagedCase(whole, -1, path.join(scratch, 'whole'));
  expect(outcome).toEqual({ seed: -1, said: 'whole', ended: 'read', problems: [] });
});

test('one seed damages a folder the same way twice, and hardly any seed leaves it whole', () => {
  let untouched = 0;
  for (let seed = 0; seed < 60; seed += 1) {
    const [once, again] = [damageFolder(base, seed), damageFolder(base, seed)];
    expect(again.said).toBe(once.said);
    expect(isSameFolder(again.files, once.files)).toBe(true);
    const same = isSameFolder(base, once.files);
    if (same) untouched += 1;
  }
  expect(untouched).toBeLessThan(6);
});

test('16 damaged folders are each read or refused with reasons, never more', async () => {
  const bad: unknown[] = [];
  const ended = { read: 0, refused: 0, threw: 0 };
  for (let seed = 1; seed <= 16; seed += 1) {
    const outcome = await runDamagedCase(base, seed, path.join(scratch, `case-${seed}`));
    ended[outcome.ended] += 1;
    if (outcome.problems.length > 0) bad.push(outcome);
  }
  expect(bad).toEqual([]);
  expect(ended.read).toBeGreaterThan(4);
  expect(ended.refused).toBeGreaterThan(4);
});
