/** What `session.yaml` says once it has been read: names of files and how to read each. */
import type { Instant } from '../time/instant';
import type { ClockSpec, TelemetryDeclaration } from './session-input';

export const TIME_CODES = [
  'iso8601',
  'ccsds-a',
  'ccsds-b',
  'unix-seconds',
  'unix-milliseconds',
  'unix-nanoseconds',
  'gps-week-seconds',
  'julian-date',
  'elapsed-seconds',
  'elapsed-dhms',
] as const;
export type TimeCode = (typeof TIME_CODES)[number];

export const TIME_SCALES = ['UTC', 'TAI', 'GPS', 'TT'] as const;
export type TimeScale = (typeof TIME_SCALES)[number];

/** How a source writes its stamps. `columns` has two names for `gps-week-seconds`, else one. */
export type TimeSpec = Readonly<{
  columns: readonly string[];
  code: TimeCode;
  scale: TimeScale;
  /** Where an elapsed code counts from; the session's zero unless the file says otherwise. */
  from: Instant;
}>;

/**
 * One column: value in SI = sign x scale x (number in the file) x toSi (+ nothing: no offsets).
 * `unit` is as written in session.yaml, `siUnit` what the values become.
 */
export type ChannelSpec = Readonly<{
  column: string;
  as: string;
  unit: string;
  siUnit: string;
  toSi: number;
  scale: number;
  sign: 1 | -1;
}>;

/** What the file states about its dialect; null = found by reading. */
export type DialectSpec = Readonly<{
  separator: string | null;
  decimal: '.' | ',' | null;
  encoding: string | null;
}>;

export type TelemetrySpec = Readonly<{
  type: 'telemetry';
  file: string;
  layout: 'wide' | 'long';
  nameColumn: string | null;
  valueColumn: string | null;
  time: TimeSpec;
  clock: ClockSpec;
  channels: readonly ChannelSpec[];
  dialect: DialectSpec;
  declared: TelemetryDeclaration;
}>;

export type EventSpec = Readonly<{
  type: 'events';
  file: string;
  /** null for WebVTT and SubRip, whose times are elapsed from zero. */
  time: TimeSpec | null;
  clock: ClockSpec;
}>;

/** Read and kept; not computed yet. */
export type EphemerisSpec = Readonly<{ type: 'ephemeris'; file: string; clock: ClockSpec }>;

export type SourceSpec = TelemetrySpec | EventSpec | EphemerisSpec;

export type SessionFile = Readonly<{
  title: string;
  kind: 'flight' | 'simulation';
  zero: Instant;
  zeroUtc: string;
  sources: readonly SourceSpec[];
  planFile: string | null;
  rulesFile: string | null;
  simulations: Readonly<{ files: string; like: string }> | null;
}>;
