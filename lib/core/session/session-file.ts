/** What `session.yaml` says once it has been read: names of files and how to read each. */

import type { ClockSpec } from '../clock/clock-spec';
import type { Instant } from '../time/instant';
import type { TimeSpec } from '../time/time-code';
import type { SimulationsAbout } from './runs-about';
import type { TelemetryDeclaration } from './session-input';
import type { StatedStamping } from './stamping';

/**
 * One column: value in SI = sign x scale x (number in the file) x toSi (+ nothing: no offsets).
 * `unit` is as written in session.yaml, `siUnit` what the values become. Where session.yaml gives no
 * unit it is null, and the file's own row of units must tell it before the values are used.
 */
export type ChannelSpec = Readonly<{
  column: string;
  as: string;
  unit: string | null;
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
  /** What the source is called: its file, a pattern, or the first of several files. */
  file: string;
  /** Names or patterns (`tm-*.csv`) of the files that make it, one or more. */
  files: readonly string[];
  layout: 'wide' | 'long';
  nameColumn: string | null;
  valueColumn: string | null;
  time: TimeSpec;
  clock: ClockSpec;
  channels: readonly ChannelSpec[];
  /** Numbers, and words of cells, that stand for "no sample"; nothing is taken for such unstated. */
  missing: readonly (number | string)[];
  dialect: DialectSpec;
  declared: TelemetryDeclaration;
}>;

export type EventSpec = StatedStamping &
  Readonly<{
    type: 'events';
    file: string;
    /** null for WebVTT and SubRip, whose times are elapsed from zero. */
    time: TimeSpec | null;
    clock: ClockSpec;
    dialect: DialectSpec;
  }>;

/** Read and kept; not computed yet. */
export type EphemerisSpec = StatedStamping &
  Readonly<{ type: 'ephemeris'; file: string; clock: ClockSpec }>;

export type SourceSpec = TelemetrySpec | EventSpec | EphemerisSpec;

/** A source that may be missing from the folder, and what that means. */
export type Absence = Readonly<{
  file: string;
  type: SourceSpec['type'];
  state: 'awaited' | 'lost';
}>;

export type SessionFile = Readonly<{
  title: string;
  kind: 'flight' | 'simulation';
  zero: Instant;
  zeroUtc: string;
  /** What mission time counts from; absent where none is declared. */
  missionZero?: Instant;
  sources: readonly SourceSpec[];
  /** Of these sources, those that may be missing. */
  absences: readonly Absence[];
  planFile: string | null;
  rulesFile: string | null;
  simulations: Readonly<{
    files: string;
    like: string;
    runColumn: string | null;
    about: SimulationsAbout;
  }> | null;
}>;
