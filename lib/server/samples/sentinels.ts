/** Numbers that look as if they stood for "no sample": proposed, never taken for such. */
import type { Issue } from '@/lib/core/result';
import type { ColumnPlan, PlannedChannel } from './column-plan';
import { readDoubles } from './double-chunks';
import type { Extent, LevelRequest } from './level-files';
import { sqlDouble, sqlName, sqlText } from './sql-text';

/** Sizes that loggers write for an absent value. Common practice, no source. */
const SENTINELS = [
  99, 999, 999.9, 999.99, 9999, 9999.9, 9999.99, 99_999, 99_999.9, 999_999, 9_999_999, 32_767,
  32_768, 65_535, 2_147_483_647, 2_147_483_648, 4_294_967_295, 1e10, 1e20, 1e30, 1e31, 1e35, 1e37,
  9.969209968386869e36,
];

/** A sentinel stands this many times the width of all other values away from them. */
const LEAST_DISTANCE = 2;
const LEAST_ROWS = 2;

function sentinelOf(stored: number | null, { factor }: PlannedChannel): number | null {
  if (stored === null) return null;
  const value = stored / factor;
  const size = SENTINELS.find((each) => Math.abs(Math.abs(value) - each) <= 1e-9 * each);
  return size === undefined ? null : Math.sign(value) * size;
}

type Suspect = Readonly<{ channel: PlannedChannel; stored: number; value: number }>;

function suspectsOf(plan: ColumnPlan, extent: Extent): Suspect[] {
  return plan.channels.flatMap((channel, index) => {
    const range = extent.channels[index];
    if (range === undefined || range.min === range.max) return [];
    return [range.min, range.max].flatMap((stored) => {
      const value = sentinelOf(stored, channel);
      return stored === null || value === null ? [] : [{ channel, stored, value }];
    });
  });
}

/**
 * Looks at the channels whose smallest or largest number is one that loggers use for "no sample".
 *
 * @returns one warning for each such number that stands apart from all others of its channel
 */
export async function sentinelIssues(
  { connection, dataFile }: LevelRequest,
  { plan, extent, file }: Readonly<{ plan: ColumnPlan; extent: Extent; file: string }>,
): Promise<Issue[]> {
  const issues: Issue[] = [];
  for (const { channel, stored, value } of suspectsOf(plan, extent)) {
    const column = sqlName(channel.stored);
    const at = sqlDouble(stored);
    const [count, low, high] = await readDoubles(
      connection,
      `SELECT CAST(count(*) FILTER (WHERE ${column} = ${at}) AS DOUBLE), coalesce(min(${column}) FILTER (WHERE ${column} <> ${at}), 'nan'::DOUBLE), coalesce(max(${column}) FILTER (WHERE ${column} <> ${at}), 'nan'::DOUBLE)
       FROM read_parquet(${sqlText(dataFile)})`,
      1,
    );
    const [rows = 0, least = Number.NaN, most = Number.NaN] = [count?.[0], low?.[0], high?.[0]];
    const distance = Math.min(Math.abs(stored - least), Math.abs(stored - most));
    if (rows < LEAST_ROWS || !(distance > LEAST_DISTANCE * (most - least))) continue;
    issues.push({
      code: 'sentinel-likely',
      severity: 'warning',
      file,
      message: `column "${channel.name}" holds ${value} in ${rows} rows, far from all its other values; state missing: [${value}] at this source if it stands for "no sample"`,
      received: String(value),
    });
  }
  return issues;
}
