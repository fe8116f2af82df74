import { DuckDBInstance } from '@duckdb/node-api';
import { expect, test } from 'vitest';
import { appendDoubles, readDoubles } from '@/lib/server/samples/double-chunks';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { seededRandom } from '../../support/seeded-random';
import { sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

test('columns go into DuckDB and come back bit by bit; what is not finite is NULL there', async () => {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  await connection.run('CREATE TABLE held (a DOUBLE, b DOUBLE)');
  const random = seededRandom(3);
  // More than two chunks of 2,048, and not a whole number of them.
  const a = Float64Array.from(
    { length: 5000 },
    () => (random() - 0.5) * 10 ** (40 * random() - 20),
  );
  const b = Float64Array.from(a, (value, row) => (row % 7 === 0 ? Number.NaN : -value));
  b[1] = Number.POSITIVE_INFINITY;
  const appender = await connection.createAppender('held');
  appendDoubles(appender, [a, b]);
  appender.closeSync();
  const [gotA, gotB] = await readDoubles(
    connection,
    "SELECT a, coalesce(b, 'nan'::DOUBLE) FROM held",
    10,
  );
  b[1] = Number.NaN;
  expect(gotA).toEqual(a);
  expect(gotB).toEqual(b);
  const [nulls] = await readDoubles(connection, 'SELECT CAST(count(b) AS DOUBLE) FROM held', 1);
  expect(nulls?.[0]).toBe(b.filter((value) => !Number.isNaN(value)).length);
  connection.closeSync();
  instance.closeSync();
});

/** Numbers as instruments and programs write them. */
function writtenNumbers(count: number): string[] {
  const random = seededRandom(11);
  return Array.from({ length: count }, (_, index) => {
    const value = (random() - 0.5) * 10 ** Math.floor(12 * random() - 4);
    const forms = [
      String(value),
      value.toFixed(Math.floor(9 * random())),
      value.toExponential(Math.floor(17 * random())),
      value.toPrecision(1 + Math.floor(17 * random())),
      `${Math.round(value)}.`,
      `+${Math.abs(value).toFixed(3).replace(/^0/, '')}`,
    ];
    return forms[index % forms.length] ?? '';
  });
}

/** The oracle is the language's own reader of decimal numbers (ECMAScript, StringToNumber). */
test('every number of a file is the nearest double of its text', async () => {
  const texts = writtenNumbers(6000);
  const lines = texts.map((text, row) => `${row},${text},1`);
  const disk = sourceOnDisk(`t,a,b\n${lines.join('\n')}\n`);
  const spec = telemetrySpec();
  const { samplesRoot } = disk;
  const { folder, issues } = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec,
    zero: ZERO,
    samplesRoot,
  });
  expect(issues).toEqual([]);
  const source = await readTelemetrySource(samplesRoot, folder ?? '', spec);
  expect(Array.from(source.channels[0]?.values ?? [])).toEqual(texts.map(Number));
});
