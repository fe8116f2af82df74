import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { proposeSession } from '@/lib/core/intake/proposal/session-proposal';
import { sketchFile } from '@/lib/server/uploads/sketch-file';

const folder = mkdtempSync(path.join(os.tmpdir(), 'wakeline-spoken-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const RANGES_M = [120, 100, 80, 60, 40];
const two = (value: number): string => String(value).padStart(2, '0');
const TELEMETRY = [
  'utc,range_m',
  ...RANGES_M.map((rangeM, row) => `2031-03-02T10:${two(row)}:00Z,${rangeM}`),
].join('\n');
/** Cue times as the W3C's WebVTT grammar has them: mm:ss.ttt. */
const cues = (words: readonly string[]): string =>
  ['WEBVTT', ...words.map((said, at) => `${two(at)}:10.000 --> ${two(at)}:12.000\n${said}`)].join(
    '\n\n',
  );
const SPOKEN = RANGES_M.map((rangeM) => `Range ${rangeM} metres.`);
const stamped = (stamp: (at: number) => string): string =>
  SPOKEN.map((said, at) => `${stamp(at)} CREW: ${said}`).join('\n');

/** What is proposed for a log beside telemetry with a range. */
async function proposed(name: string, text: string, telemetry = TELEMETRY) {
  writeFileSync(path.join(folder, name), text);
  writeFileSync(path.join(folder, 'nav.csv'), telemetry);
  const sketches = [await sketchFile(folder, name), await sketchFile(folder, 'nav.csv')];
  const { description, reasons } = proposeSession(sketches);
  return { clock: description.files[0]?.clock, reason: reasons[0]?.clock };
}

test('a log of cue times with enough spoken ranges is to be put in place by them, with the reason', async () => {
  const { clock, reason } = await proposed('loop.vtt', cues(SPOKEN));
  expect(clock).toBe('callouts');
  expect(reason).toMatch(/5 ranges are spoken.*range of nav\.csv/);
});

test.each([
  ['lines with elapsed stamps', 'loop.txt', stamped((at) => `00:0${at}:10`), 'callouts'],
  ['lines with dates', 'loop.txt', stamped((at) => `2031-03-02T10:0${at}:10Z`), 'own'],
  [
    'a table with elapsed seconds',
    'loop.csv',
    ['t_s,text', ...SPOKEN.map((said, at) => `${60 * at},${said}`)].join('\n'),
    'callouts',
  ],
  [
    'a table with dates',
    'loop.csv',
    ['utc,text', ...SPOKEN.map((said, at) => `2031-03-02T10:0${at}:10Z,${said}`)].join('\n'),
    'own',
  ],
  [
    'cues with three ranges',
    'loop.vtt',
    cues([...SPOKEN.slice(0, 3), 'Hatch is closed.', 'Go at step 12.']),
    'own',
  ],
  [
    'cues with ranges in doubt',
    'loop.vtt',
    cues(RANGES_M.map((rangeM) => `Expect ${rangeM} metres?`)),
    'own',
  ],
])('%s', async (_, name, text, clock) => {
  expect(await proposed(name, text)).toMatchObject({ clock });
});

test('without a measured range its times stand as they are', async () => {
  const mass = TELEMETRY.replace('range_m', 'propellant_kg');
  expect(await proposed('loop.vtt', cues(SPOKEN), mass)).toEqual({ clock: 'own', reason: null });
});
