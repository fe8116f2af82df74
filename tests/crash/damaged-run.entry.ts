/**
 * `node .built/damaged-run.mjs reader|command FROM_SEED COUNT SCRATCH`: a campaign of damaged folders.
 *
 * Prints one line of JSON as each case starts and one as it ends, so that whoever started it knows
 * which case was under way if this process dies.
 */
import path from 'node:path';
import { runDamagedCase, smallFolder } from './damaged-case';
import { runDamagedCommand } from './damaged-command';

const [through, fromSeed, count, scratch] = process.argv.slice(2);
if (scratch === undefined) {
  console.error('Say: reader|command FROM_SEED COUNT SCRATCH');
  process.exit(2);
}
const base = smallFolder();
const first = Number(fromSeed);
for (let seed = first; seed < first + Number(count); seed += 1) {
  console.log(JSON.stringify({ started: seed }));
  const place = path.join(scratch, `case-${seed}`);
  const outcome =
    through === 'command'
      ? runDamagedCommand(base, seed, place)
      : await runDamagedCase(base, seed, place);
  console.log(JSON.stringify({ ended: outcome }));
}
