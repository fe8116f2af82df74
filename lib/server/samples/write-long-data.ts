/** The samples of a long source, one column a channel, into data.parquet. */
import { rm } from 'node:fs/promises';
import { type PlannedChannel, TIME_COLUMN } from './column-plan';
import { type PassInput, parquetOptions, storedNumberSql } from './data-pass';
import { readDoubles } from './double-chunks';
import { sqlName, sqlText } from './sql-text';

/** Channels written in one go: the work is samples times this, the memory stamps times this. */
const BATCH = 64;
const STAMPS = 'long_stamps';

function columnSql(channel: PlannedChannel): string {
  const number = storedNumberSql('number', channel);
  return `max(${number}) FILTER (WHERE name = ${sqlText(channel.name)} AND isfinite(${number})) AS ${sqlName(channel.stored)}`;
}

/** One row for each stamp of the whole source, so that the parts lie side by side. */
function partSql(samples: string, channels: readonly PlannedChannel[]): string {
  const names = channels.map((channel) => sqlText(channel.name)).join(', ');
  const among = names === '' ? 'false' : `name IN (${names})`;
  return `SELECT ${[TIME_COLUMN, ...channels.map(columnSql)].join(', ')} FROM (
      SELECT t, name, number FROM ${samples}
      WHERE NOT isnan(t) AND ${among} AND r NOT IN (SELECT r FROM long_faults)
      UNION ALL SELECT t, NULL, NULL FROM ${STAMPS})
    GROUP BY t ORDER BY t`;
}

/**
 * Writes data.parquet from the table of samples.
 *
 * @param samples name of the table: `r`, `t`, `name`, `number`
 * @returns the number of rows
 */
export async function writeLongData(
  input: PassInput,
  samples: string,
  channels: readonly PlannedChannel[],
): Promise<number> {
  const { connection, dataFile } = input;
  await connection.run(
    `CREATE TEMP TABLE ${STAMPS} AS SELECT DISTINCT t FROM ${samples}
     WHERE NOT isnan(t) AND name IS NOT NULL AND r NOT IN (SELECT r FROM long_faults)`,
  );
  const parts: string[] = [];
  const options = parquetOptions(input.metadataOf(channels));
  if (channels.length <= BATCH) {
    await connection.run(`COPY (${partSql(samples, channels)}) TO ${sqlText(dataFile)} ${options}`);
  } else {
    for (let from = 0; from < channels.length; from += BATCH) {
      const part = `${dataFile}.part-${parts.length}`;
      const sql = partSql(samples, channels.slice(from, from + BATCH));
      await connection.run(`COPY (${sql}) TO ${sqlText(part)} (FORMAT parquet)`);
      parts.push(part);
    }
    const columns = channels.map((channel) => sqlName(channel.stored)).join(', ');
    const [first = '', ...others] = parts.map((part, index) =>
      index === 0
        ? `read_parquet(${sqlText(part)})`
        : `(SELECT * EXCLUDE (${TIME_COLUMN}) FROM read_parquet(${sqlText(part)}))`,
    );
    const sides = others.map((other) => ` POSITIONAL JOIN ${other}`).join('');
    await connection.run(
      `COPY (SELECT ${TIME_COLUMN}, ${columns} FROM ${first}${sides}) TO ${sqlText(dataFile)} ${options}`,
    );
    for (const part of parts) await rm(part);
  }
  await connection.run(`DROP TABLE ${STAMPS}`);
  const [rows] = await readDoubles(
    connection,
    `SELECT CAST(count(${TIME_COLUMN}) AS DOUBLE) FROM read_parquet(${sqlText(dataFile)})`,
    1,
  );
  return rows?.[0] ?? 0;
}
