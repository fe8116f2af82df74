/**
 * `node .built/make-demo.mjs DIR [PEOPLE]`: writes the demo's session folder to DIR and, where
 * asked, what its reviewers found and wrote to the JSON file PEOPLE. `--flight` in place of PEOPLE leaves
 * the simulator runs out; `--before` after PEOPLE writes the flight before in place of the demo's own.
 */
import { writeFile } from 'node:fs/promises';
import { DEMO_DEBRIEF, DEMO_FINDINGS } from './demo-findings';
import { EARLIER_DEBRIEF, earlierFindings } from './earlier-findings';
import { earlierFiles, flyEarlier } from './earlier-flight';
import { demoFiles, flightFiles, writeDemoFolder } from './make-demo';

const [dir, second, third] = process.argv.slice(2);
const isFlight = second === '--flight';
const peopleFile = isFlight ? undefined : second;

/** The folder's files, and what its reviewers found and wrote. */
function made() {
  if (third === '--before') {
    const truth = flyEarlier();
    const people = { findings: earlierFindings(truth), debrief: EARLIER_DEBRIEF };
    return { files: earlierFiles(truth), people };
  }
  const people = { findings: DEMO_FINDINGS, debrief: DEMO_DEBRIEF };
  return { files: isFlight ? flightFiles() : demoFiles(), people };
}

if (dir === undefined) {
  console.error('Say where to write the demo: node .built/make-demo.mjs DIR [PEOPLE [--before]]');
  process.exit(2);
}
const { files, people } = made();
await writeDemoFolder(dir, files);
if (peopleFile !== undefined) await writeFile(peopleFile, JSON.stringify(people));
console.log(`The demo's session folder is in ${dir}.`);
