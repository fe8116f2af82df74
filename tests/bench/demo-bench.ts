/** How long the demo takes to make: both flights and two hundred simulator runs, written to the disk. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { earlierFiles, flyEarlier } from '@/seed/earlier-flight';
import { demoFiles, writeDemoFolder } from '@/seed/make-demo';
import { type Bench, median, secondsOf } from './bench';

const ROUNDS = 3;
/** A first start may spend this long on it, s. */
const LIMIT_S = 5;

export const demoBench: Bench = {
  name: 'demo',
  async run(say) {
    const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-bench-'));
    const seconds: number[] = [];
    try {
      for (let round = 1; round <= ROUNDS; round += 1) {
        say(`round ${round} of ${ROUNDS}`);
        seconds.push(
          await secondsOf(async () => {
            await writeDemoFolder(path.join(folder, 'before'), earlierFiles(flyEarlier()));
            await writeDemoFolder(path.join(folder, 'demo'), demoFiles());
          }),
        );
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
    return [
      {
        what: 'making the demo',
        unit: 's',
        measured: median(seconds),
        reference: LIMIT_S,
        against: 'the time a first start may spend on it',
        must: 1,
        aim: 0.5,
        detail: `median of ${ROUNDS}`,
      },
    ];
  },
};
