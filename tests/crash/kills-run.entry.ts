/**
 * `node .built/kills-run.mjs FROM_SEED COUNT SCRATCH`: a campaign of kills at random moments. Prints
 * one line of JSON as each case starts and one as it ends.
 */
import path from 'node:path';
import { smallFolder } from './damaged-case';
import { measureWholeRun, runKilledCase } from './killed-case';

const [fromSeed, count, place] = process.argv.slice(2);
if (place === undefined) {
  console.error('Say: FROM_SEED COUNT SCRATCH');
  process.exit(2);
}
const base = smallFolder();
const wholeMs = await measureWholeRun(base, path.join(place, 'whole'));
const first = Number(fromSeed);
for (let seed = first; seed < first + Number(count); seed += 1) {
  console.log(JSON.stringify({ started: seed }));
  const scratch = path.join(place, `kill-${seed}`);
  const outcome = await runKilledCase(base, seed, { scratch, wholeMs });
  console.log(JSON.stringify({ ended: outcome }));
}
