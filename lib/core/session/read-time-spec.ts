/** `time` and `clock` of a source. */
import type { ClockSpec } from '../clock/clock-spec';
import type { Instant } from '../time/instant';
import { isDateCode, parseInstant } from '../time/parse';
import type { TimeSpec } from '../time/time-code';
import { nameOnOneLine } from './column-name';
import type { Report } from './schema-issues';
import type { ClockData, TimeData } from './session-schema';
import type { KeyPath } from './yaml-text';

/**
 * Human lag of a spoken range behind its crossing and its spread (folder format: `align: callouts`);
 * the spread of a speaker's own mean lag, and of a range bias: common practice, no source.
 */
export const DEFAULT_ALIGNMENT = {
  lagS: 0.8,
  lagSdS: 0.4,
  lagMeanSdS: 0.1,
  rangeBiasSdM: 1,
} as const;
/** A bias spread of 0 says that both ranges are between the same points, to a millimetre. */
const LEAST_BIAS_SD_M = 1e-3;

/** Reads `time`; elapsed codes count from `zero` unless `from` says otherwise. */
export function readTime(data: TimeData, zero: Instant, path: KeyPath, report: Report): TimeSpec {
  const named = data.columns ?? (data.column === undefined ? [] : [data.column]);
  const columns = named.map(nameOnOneLine);
  const needed = data.code === 'gps-week-seconds' ? 2 : 1;
  // A date and its time of day may stand in two columns.
  const fits = columns.length === needed || (columns.length === 2 && isDateCode(data.code));
  if (data.column !== undefined && data.columns !== undefined) {
    report([...path, 'columns'], {
      code: 'key-conflict',
      message: 'column and columns exclude each other',
      expected: 'one of column, columns',
      received: 'both',
    });
  } else if (columns.length > 0 && !fits) {
    report([...path, 'columns'], {
      code: 'columns-count',
      message: `the code ${data.code} needs ${needed === 1 ? 'one column' : 'two columns, week and seconds'}, found ${columns.length}`,
      expected: `${needed}`,
      received: `${columns.length}`,
    });
  }
  if (data.code === 'gps-week-seconds' && data.scale !== undefined && data.scale !== 'GPS') {
    report([...path, 'scale'], {
      code: 'scale-misfit',
      message: `gps-week-seconds counts on the GPS scale, found ${data.scale}`,
      expected: 'GPS',
      received: data.scale,
    });
  }
  const scale = data.scale ?? (data.code === 'gps-week-seconds' ? 'GPS' : 'UTC');
  const from = readFrom(data, zero, path, report);
  if (data.date_order === undefined) return { columns, code: data.code, scale, from };
  if (data.code !== 'iso8601') {
    report([...path, 'date_order'], {
      code: 'key-conflict',
      message: `date_order belongs to code iso8601, the code here is ${data.code}`,
      expected: 'iso8601',
      received: data.code,
    });
  }
  return { columns, code: data.code, scale, from, dateOrder: data.date_order };
}

function readFrom(data: TimeData, zero: Instant, path: KeyPath, report: Report): Instant {
  if (data.from === undefined) return zero;
  const from = parseInstant(data.from, 'UTC');
  if (from === null) {
    report([...path, 'from'], {
      code: 'instant-not-readable',
      message: `must be a UTC instant in ISO 8601, found "${data.from}"`,
      expected: '2031-04-17T09:12:30Z or 2031-107T09:12:30Z',
      received: data.from,
    });
  } else if (!data.code.startsWith('elapsed-')) {
    report([...path, 'from'], {
      code: 'key-conflict',
      message: `from belongs to elapsed codes, the code here is ${data.code}`,
      expected: 'elapsed-seconds or elapsed-dhms',
      received: data.code,
    });
  }
  return from ?? zero;
}

/** Reads `clock`; absent means the identity. */
export function readClock(data: ClockData | undefined, path: KeyPath, report: Report): ClockSpec {
  if (data === undefined) return { kind: 'given', offsetS: 0, driftPpm: 0 };
  if ('align' in data) {
    return {
      kind: 'callouts',
      lagS: data.lag_s ?? DEFAULT_ALIGNMENT.lagS,
      lagSdS: data.lag_sd_s ?? DEFAULT_ALIGNMENT.lagSdS,
      lagMeanSdS: data.lag_mean_sd_s ?? DEFAULT_ALIGNMENT.lagMeanSdS,
      rangeBiasSdM: Math.max(
        LEAST_BIAS_SD_M,
        data.range_bias_sd_m ?? DEFAULT_ALIGNMENT.rangeBiasSdM,
      ),
    };
  }
  if (!('tie_points' in data)) {
    const offsetS = 'offset_s' in data ? data.offset_s : 0;
    return { kind: 'given', offsetS, driftPpm: data.drift_ppm ?? 0 };
  }
  const points = [...data.tie_points].sort((a, b) => a[0] - b[0]);
  points.forEach((point, index) => {
    const before = points[index - 1];
    if (before !== undefined && (before[0] === point[0] || before[1] >= point[1])) {
      report([...path, 'tie_points'], {
        code: 'tie-points-not-ascending',
        message: `both times must rise from point to point, found [${before.join(', ')}] and [${point.join(', ')}]`,
        expected: 'distinct source times with session times in the same order',
        received: `[${before.join(', ')}], [${point.join(', ')}]`,
      });
    }
  });
  return { kind: 'tie-points', points };
}
