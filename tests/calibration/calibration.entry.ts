/**
 * The calibration study: flies simulated approaches in each case and prints, for each figure, how often
 * its 95 % interval holds the truth and how wide it is. Ends with 1 where the edges of phases are out.
 * `node .built/calibration.mjs FIRST COUNT [PART OF A CASE'S NAME]`; all arguments optional.
 */
import { CASES } from '../support/calibration-flight';
import { type Calibration, calibrationOf, studyCase } from './study';

const [first = '1', count = '200', only = ''] = process.argv.slice(2);
const seeds = Array.from({ length: Number(count) }, (_, k) => Number(first) + k);

function isOut({ inside }: Calibration): boolean {
  return inside < 0.92 || inside > 0.98;
}

function lineOf(name: string, c: Calibration): string {
  const mark = isOut(c) ? ' *' : c.ratio > 1.3 ? ' >' : '';
  const cells = [
    name,
    `${c.count}`,
    `${(100 * c.inside).toFixed(1)}${mark}`,
    c.medianHalf.toPrecision(3),
    c.error95.toPrecision(3),
    c.ratio.toFixed(2),
    c.meanError.toPrecision(2),
  ];
  return `| ${cells.join(' | ')} |`;
}

for (const kind of CASES) {
  const name = `velocity ${kind.velocity}, ${kind.noise} noise, ${kind.excess} excess`;
  if (!name.includes(only)) continue;
  const { tallies, flights, otherPhases, verdicts } = studyCase(kind, seeds);
  console.log(`\n## ${name}\n`);
  console.log(
    `${flights} flights; phases other than the four flown: ${otherPhases.join(' ') || 'none'}.`,
  );
  console.log(
    `Rate rule, by truth: ${[...verdicts].map(([told, times]) => `${told} ${times}`).join(', ')}.\n`,
  );
  console.log('| figure | n | inside, % | median half-width | 95 % error | ratio | mean error |');
  console.log('| --- | --- | --- | --- | --- | --- | --- |');
  for (const [figure, tally] of tallies) console.log(lineOf(figure, calibrationOf(tally)));
  const edges = tallies.get('all edges');
  if (edges === undefined) continue;
  const calibration = calibrationOf(edges);
  if (isOut(calibration) || calibration.ratio > 1.3) process.exitCode = 1;
}
