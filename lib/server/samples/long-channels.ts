/** The channels that the rows of a long source name, and what the session file says of them. */
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { missingNumbers, type PlannedChannel, planStoredNames } from './column-plan';
import type { PassInput } from './data-pass';
import { SAMPLES } from './long-samples';

export const MOST_LONG_CHANNELS = 2000;

/** Values of one channel with a stamp: those that hold something, and how they read. */
export type NameCount = Readonly<{ name: string; filled: number; bad: number; notFinite: number }>;

/** In the order met; one more than can be read where there are too many. */
export async function countNames(input: PassInput): Promise<readonly NameCount[]> {
  const reader = await input.connection.runAndReadAll(
    `SELECT name, CAST(count(*) FILTER (WHERE (bad OR number IS NOT NULL) AND NOT isnan(t)) AS DOUBLE),
       CAST(count(*) FILTER (WHERE bad AND NOT isnan(t)) AS DOUBLE),
       CAST(count(*) FILTER (WHERE NOT isfinite(number) AND NOT isnan(t)) AS DOUBLE)
     FROM ${SAMPLES} WHERE name IS NOT NULL GROUP BY name ORDER BY min(r) LIMIT ${MOST_LONG_CHANNELS + 1}`,
  );
  return reader.getRows().map(([name, filled, bad, notFinite]) => ({
    name: String(name),
    filled: Number(filled),
    bad: Number(bad),
    notFinite: Number(notFinite),
  }));
}

/** True where more than half of the values are no numbers. */
function holdsWords({ filled, bad }: NameCount): boolean {
  return 2 * bad > filled;
}

/** `index` of each is that of its name; a channel of words that nobody described is left out. */
export function planChannels(
  spec: TelemetrySpec,
  names: readonly NameCount[],
): readonly PlannedChannel[] {
  const mapped = new Map(spec.channels.map((channel) => [channel.column, channel]));
  const store = planStoredNames();
  return names.flatMap((count, index) => {
    const { name } = count;
    const channel = mapped.get(name);
    if (channel === undefined && holdsWords(count)) return [];
    return [
      {
        index,
        name,
        stored: store(name),
        as: channel?.as ?? name,
        unit: channel?.siUnit ?? '',
        sourceUnit: channel?.unit ?? null,
        mapped: channel !== undefined,
        factor: channel === undefined ? 1 : channel.sign * channel.scale * channel.toSi,
        missing: missingNumbers(spec),
      },
    ];
  });
}

function missingIssue(file: string, column: string, known: ReadonlySet<string>): Issue {
  const more = known.size > 12 ? ` and ${known.size - 12} more` : '';
  return {
    code: 'channel-missing',
    severity: 'error',
    file,
    message: `no row is named "${column}"; the file has ${[...known].slice(0, 12).join(', ')}${more}`,
    expected: column,
  };
}

function tooManyIssue({ file, nameColumn }: TelemetrySpec): Issue {
  return {
    code: 'too-many-channels',
    severity: 'error',
    file,
    message: `the column "${nameColumn}" holds more than ${MOST_LONG_CHANNELS} different names; at most so many are read`,
    expected: `at most ${MOST_LONG_CHANNELS}`,
    received: `more than ${MOST_LONG_CHANNELS}`,
  };
}

/** What is wrong with the names; a source without a row has a fault of its own, told elsewhere. */
export function nameIssues(spec: TelemetrySpec, names: readonly NameCount[]): readonly Issue[] {
  if (names.length > MOST_LONG_CHANNELS) return [tooManyIssue(spec)];
  const { file } = spec;
  const known = new Set(names.map((each) => each.name));
  if (known.size === 0) return [];
  return spec.channels.flatMap(({ column }): Issue[] => {
    const count = names.find((each) => each.name === column);
    if (count === undefined) return [missingIssue(file, column, known)];
    if (!holdsWords(count)) return [];
    return [
      {
        code: 'channel-not-numeric',
        severity: 'error',
        file,
        message: `${count.bad} of ${count.filled} values of "${column}" are no numbers; the decimal sign or the column may be another`,
        expected: 'numbers',
      },
    ];
  });
}
