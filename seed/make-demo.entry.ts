/**
 * `node .built/make-demo.mjs DIR [PEOPLE]`: writes the demo's session folder to DIR and, where
 * asked, what its reviewers found and wrote to the JSON file PEOPLE.
 */
import { writeFile } from 'node:fs/promises';
import { DEMO_DEBRIEF, DEMO_FINDINGS } from './demo-findings';
import { writeDemoFolder } from './make-demo';

const [dir, peopleFile] = process.argv.slice(2);
if (dir === undefined) {
  console.error('Say where to write the demo: node .built/make-demo.mjs DIR [PEOPLE]');
  process.exit(2);
}
await writeDemoFolder(dir);
if (peopleFile !== undefined) {
  await writeFile(peopleFile, JSON.stringify({ findings: DEMO_FINDINGS, debrief: DEMO_DEBRIEF }));
}
console.log(`The demo's session folder is in ${dir}.`);
