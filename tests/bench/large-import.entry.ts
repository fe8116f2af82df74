/** Imports one file and tells the greatest resident set of this process. Arguments: file, store. */
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { ZERO } from '../support/telemetry-spec';
import { LARGE_SPEC } from './large-spec';

const [file = '', samplesRoot = ''] = process.argv.slice(2);
const started = performance.now();
const { report, issues } = await importTelemetry({
  parts: [{ name: 'telemetry.csv', file }],
  spec: LARGE_SPEC,
  zero: ZERO,
  samplesRoot,
  threads: 2,
  original: 'link',
});
if (report === null) throw new Error(JSON.stringify(issues));
process.stdout.write(
  JSON.stringify({
    peakKb: process.resourceUsage().maxRSS,
    rows: report.rows,
    seconds: (performance.now() - started) / 1000,
  }),
);
