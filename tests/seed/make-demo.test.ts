import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { earlierFiles, flyEarlier } from '@/seed/earlier-flight';
import { demoFiles, writeDemoFolder } from '@/seed/make-demo';

/**
 * SHA-256 of each file, the same on Node 20 and 24. They freeze our own output: a changed one needs
 * its reason in the commit.
 */
const SHA_256 = {
  'README.md': '04534a44a5a0f368420d4bfeffd60af99649f6e12a209fb39f83511ac579669b',
  'events.csv': 'c966b2a383847547de814ee0c62ddad02e228fd0ad9c3878bfeaaa6e71730b45',
  'loop.vtt': '37821ccfa1e7cd2ae585e15e9ac9218d9c536a1de6f4d35ca625355d7abc7154',
  'people.yaml': 'b5409de6588a261d8b334bf30dbb18dc087733b2dff490db651420e5b15f3d4f',
  'plan.yaml': '679943827ce03972630a2ea3db6b7046b3270619a2c568459fed52a583c91cd9',
  'rangefinder.csv': '4a38153860b0a5bf2befc467c29246eb5b9ebaa70afca6b9c3676acd085c3750',
  'rules.yaml': '5ec7806a572b7fb899476931a626dce4a9370f5cc7c62dd61c7446009c61a751',
  'session.yaml': 'efcda82c6f759429e0604cbedd968be4ae5373c855bc398106b3cdafe686ef00',
  'telemetry.csv': '7de56b98490c6eafa1241202d396f1ecef2f020f39ee19d50cee7e2fd128a6ff',
} as const;

/** SHA-256 over names and bytes of all 200 simulator runs. */
const RUNS_SHA_256 = '688d45e757bd1a100b5f57ce87d05e0d2f9fa528038f343144cb3b91be23e5dd';

/** SHA-256 over names and bytes of the flight before. */
const EARLIER_SHA_256 = '2ff8f990389e1354f0b4f417beea1315daa417a897a42cef92ec000e7f75cd04';

let root = '';
beforeEach(async () => {
  root = await mkdtemp(path.join(tmpdir(), 'wakeline-demo-'));
});
afterEach(async () => {
  await rm(root, { recursive: true, force: true });
});

test('the demo folder has the same bytes every time', async () => {
  await writeDemoFolder(path.join(root, 'demo'), demoFiles());
  const found: Record<string, string> = {};
  const runs = createHash('sha256');
  for (const name of (await readdir(path.join(root, 'demo'), { recursive: true })).sort()) {
    if (name === 'simulations') continue;
    const bytes = await readFile(path.join(root, 'demo', name));
    if (name.startsWith('simulations/')) runs.update(`${name}\0`).update(bytes);
    else found[name] = createHash('sha256').update(bytes).digest('hex');
  }
  expect(runs.digest('hex')).toBe(RUNS_SHA_256);
  expect(found).toEqual(SHA_256);
});

test('the flight before has the same bytes every time', () => {
  const all = createHash('sha256');
  for (const [name, text] of earlierFiles(flyEarlier())) all.update(`${name}\0`).update(text);
  expect(all.digest('hex')).toBe(EARLIER_SHA_256);
});

test('a folder that was there is replaced whole, and nothing else is left beside it', async () => {
  await mkdir(path.join(root, 'demo'));
  await writeFile(path.join(root, 'demo', 'old.txt'), 'old');
  const files = new Map([
    ['session.yaml', 'title: new'],
    ['simulations/run-1.csv', 't'],
  ]);
  await writeDemoFolder(path.join(root, 'demo'), files);
  expect(await readdir(root)).toEqual(['demo']);
  const names = (await readdir(path.join(root, 'demo'), { recursive: true })).sort();
  expect(names).toEqual(['session.yaml', 'simulations', 'simulations/run-1.csv']);
});
