/** A telemetry source described before, for a file with the same columns. */
import type { TelemetrySpec } from '../../session/session-file';
import { formatInstant } from '../../time/format';
import type { Instant } from '../../time/instant';
import { isElapsedCode } from '../../time/time-code';
import type { DescribedFile } from './session-proposal';
import type { ColumnProposal } from './table-proposal';

/** How it was read, in which session, and that session's time 0. */
export type Remembered = Readonly<{ spec: TelemetrySpec; title: string; zero: Instant }>;

/** True for a source of which the form can say everything: nothing is dropped from it in silence. */
function canBeSaid({ channels, missing, declared, dialect }: TelemetrySpec): boolean {
  const { stamp: _, latencyS: __, available: ___, ...others } = declared;
  const stated = [...Object.values(others), ...Object.values(dialect)];
  const isBare = stated.every((each) => each === null);
  return isBare && missing.length === 0 && channels.every(({ scale }) => scale === 1);
}

/** True when everything that the earlier description names stands in this header. */
export function fitsAgain(
  { spec }: Remembered,
  file: DescribedFile,
  header: readonly string[],
): boolean {
  if (spec.layout !== file.layout || spec.channels.length === 0 || !canBeSaid(spec)) return false;
  const named = [...spec.time.columns, ...[spec.nameColumn, spec.valueColumn].filter(isNamed)];
  const columns = file.channels.map(({ column }) => column);
  const inHeader = (name: string): boolean => header.includes(name) || columns.includes(name);
  return named.every(inHeader) && spec.channels.every(({ column }) => columns.includes(column));
}

function isNamed(name: string | null): name is string {
  return name !== null;
}

/** Why the columns are proposed as they were described before. */
export function columnsAsBefore(
  columns: readonly ColumnProposal[],
  { spec, title }: Remembered,
): readonly ColumnProposal[] {
  return columns.map((column) => {
    const known = spec.channels.find((channel) => channel.column === column.column);
    return known === undefined
      ? { ...column, as: null, reason: `not used in "${title}"; ${column.reason}` }
      : {
          ...column,
          as: known.as,
          unit: known.unit ?? column.unit,
          isUnitSaid: known.unit !== null || column.isUnitSaid,
          sign: known.sign,
          reason: `as described in "${title}"`,
        };
  });
}

/** The instant that elapsed times were stated to count from; null where it was session time 0. */
function statedFrom({ spec, zero }: Remembered): string | null {
  const { code, from } = spec.time;
  if (!isElapsedCode(code) || from.taiNs === zero.taiNs) return null;
  return formatInstant(from, 'UTC', { decimals: 9 }).replace(/\.?0+Z$/, 'Z');
}

/** The file described as the earlier one was; columns that it did not name are left open. */
export function asBefore(file: DescribedFile, known: Remembered): DescribedFile {
  const { time, channels, nameColumn, valueColumn, declared } = known.spec;
  const { columns, code, scale } = time;
  const dateOrder = time.dateOrder ?? file.time?.dateOrder ?? null;
  return {
    ...file,
    use: 'telemetry',
    time: { columns, code, scale, from: statedFrom(known), dateOrder },
    nameColumn,
    valueColumn,
    stamping: {
      stamp: declared.stamp ?? file.stamping.stamp,
      latency: declared.latencyS === null ? '' : String(declared.latencyS),
      available: declared.available,
    },
    channels: file.channels.map(({ column, unit }) => {
      const channel = channels.find((each) => each.column === column);
      return channel === undefined
        ? { column, as: null, unit: null, sign: 1 }
        : { column, as: channel.as, unit: channel.unit ?? unit, sign: channel.sign };
    }),
  };
}

/** What to look at in times that were counted from an instant of another session. */
export function timeAsBefore(known: Remembered): string | null {
  const from = statedFrom(known);
  return from === null
    ? null
    : `counted from ${from} in "${known.title}"; see whether they are here`;
}
