/**
 * `node .built/make-demo.mjs DIR [PEOPLE]`: writes the demo's session folder to DIR and, where
 * asked, what its reviewers found and wrote to the JSON file PEOPLE. `--flight` in place of PEOPLE leaves
 * the simulator runs out.
 */
import { writeFile } from 'node:fs/promises';
import { DEMO_DEBRIEF, DEMO_FINDINGS } from './demo-findings';
import { demoFiles, flightFiles, writeDemoFolder } from './make-demo';

const [dir, second] = process.argv.slice(2);
const isFlight = second === '--flight';
const peopleFile = isFlight ? undefined : second;
if (dir === undefined) {
  console.error('Say where to write the demo: node .built/make-demo.mjs DIR [PEOPLE]');
  process.exit(2);
}
await writeDemoFolder(dir, isFlight ? flightFiles() : demoFiles());
if (peopleFile !== undefined) {
  await writeFile(peopleFile, JSON.stringify({ findings: DEMO_FINDINGS, debrief: DEMO_DEBRIEF }));
}
console.log(`The demo's session folder is in ${dir}.`);
