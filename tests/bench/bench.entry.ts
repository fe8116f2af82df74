/** Runs the benches, prints one table, ends with 1 when a `must` is missed. */

import { bandsBench } from './bands-bench';
import type { Bench, BenchRow } from './bench';
import { demoBench } from './demo-bench';
import { firstPageBench } from './first-page-bench';
import { kernelsBench } from './kernels-bench';
import { largeBench } from './large-bench';
import { logsBench } from './logs-bench';
import { publishBench } from './publish-bench';
import { reconstructBench } from './reconstruct-bench';
import { samplesBench } from './samples-bench';
import { timelineBench, timelineLargeBench } from './timeline-bench';

const BENCHES: readonly Bench[] = [
  samplesBench,
  reconstructBench,
  kernelsBench,
  bandsBench,
  logsBench,
  demoBench,
  publishBench,
  firstPageBench,
  timelineBench,
];
/** Run only when asked for: they take minutes and gigabytes. */
const LONG_BENCHES: readonly Bench[] = [largeBench, timelineLargeBench];

function verdict(row: BenchRow): 'over must' | 'within must' | 'within aim' {
  const ratio = row.measured / row.reference;
  if (!(ratio <= row.must)) return 'over must';
  return ratio <= row.aim ? 'within aim' : 'within must';
}

function amount(value: number, unit: BenchRow['unit']): string {
  if (unit === 'kB') return `${value.toFixed(0)} kB`;
  return value < 0.1 ? `${(value * 1000).toFixed(2)} ms` : `${value.toFixed(2)} s`;
}

function table(rows: readonly BenchRow[]): string {
  const head = ['what', 'measured', 'against', 'which is', 'ratio', 'must', 'aim', ''];
  const lines = rows.map((row) => [
    row.what,
    amount(row.measured, row.unit),
    row.against,
    amount(row.reference, row.unit),
    (row.measured / row.reference).toPrecision(3),
    `<= ${row.must}`,
    `<= ${row.aim}`,
    verdict(row),
  ]);
  const widths = head.map((_, at) =>
    Math.max(...[head, ...lines].map((line) => line[at]?.length ?? 0)),
  );
  return [head, ...lines]
    .map((line) =>
      line
        .map((cell, at) => cell.padEnd(widths[at] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const wanted = process.argv.slice(2).map((name) => name.replace(/^--/, ''));
const all = [...BENCHES, ...LONG_BENCHES];
const unknown = wanted.filter((name) => !all.some((bench) => bench.name === name));
if (unknown.length > 0) {
  console.error(`no bench "${unknown[0]}"; there are ${all.map((bench) => bench.name).join(', ')}`);
  process.exit(2);
}
const chosen = wanted.length === 0 ? BENCHES : all.filter(({ name }) => wanted.includes(name));
const rows: BenchRow[] = [];
for (const bench of chosen) {
  rows.push(...(await bench.run((text) => console.error(`${bench.name}: ${text}`))));
}
console.log(table(rows));
for (const row of rows) console.log(`${row.what}: ${row.detail}`);
process.exitCode = rows.some((row) => verdict(row) === 'over must') ? 1 : 0;
