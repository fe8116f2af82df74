/**
 * `node .built/damaged-run.mjs reader|command|formats FROM_SEED COUNT SCRATCH`: a campaign of damaged
 * folders, or of one damaged file of each format a seed.
 *
 * Prints one line of JSON as each case starts and one as it ends, so that whoever started it knows
 * which case was under way if this process dies.
 */
import path from 'node:path';
import { type CaseOutcome, runDamagedCase, smallFolder } from './damaged-case';
import { runDamagedCommand } from './damaged-command';
import { runDamagedFormat } from './damaged-format';
import { damagedFormats } from './damaged-samples';

const [through, fromSeed, count, scratch] = process.argv.slice(2);
if (scratch === undefined) {
  console.error('Say: reader|command|formats FROM_SEED COUNT SCRATCH');
  process.exit(2);
}
const base = smallFolder();
const formats = through === 'formats' ? await damagedFormats() : [];

async function casesOf(seed: number, place: string): Promise<readonly CaseOutcome[]> {
  if (through === 'command') return [runDamagedCommand(base, seed, place)];
  if (through !== 'formats') return [await runDamagedCase(base, seed, place)];
  const outcomes: CaseOutcome[] = [];
  for (const format of formats) outcomes.push(await runDamagedFormat(format, seed, place));
  return outcomes;
}

const first = Number(fromSeed);
for (let seed = first; seed < first + Number(count); seed += 1) {
  console.log(JSON.stringify({ started: seed }));
  const outcomes = await casesOf(seed, path.join(scratch, `case-${seed}`));
  for (const outcome of outcomes) console.log(JSON.stringify({ ended: outcome }));
}
