/**
 * Everything a reconstruction is computed from: the session folder once it has been read.
 *
 * Times here are on each source's OWN clock, in seconds from the session's zero (for a dated code:
 * stamp minus zero, exact to the nanosecond before the division). The clock stage maps them onto
 * session time.
 */
import type { ClockSpec } from '../clock/clock-spec';
import type { Issue } from '../result';
import type { Instant } from '../time/instant';
import type { ClockCorrection } from './clock-correction';
import type { CrewQuestionWords } from './crew-question-words';
import type { HandlingRating, HandlingTask } from './handling-words';
import type { MeasuredBetween, OrbitTurn } from './measured-points';
import type { PhaseEdit } from './phase-edit';
import type { Plan } from './plan';
import type { RecordingWords } from './recording-words';
import type { Rule } from './rule';
import type { RuleDisposition } from './rule-disposition';
import type { SimulationsAbout } from './runs-about';
import type { StampFault } from './stamp-fault';
import type { Stamping, StatedStamping } from './stamping';
import type { StretchCorrection } from './stretch-correction';

/**
 * One column of samples: `name` as written in the file, `as` the quantity it is (`position.x`) or
 * its own name, `unit` SI (`m`, `m/s`, `rad`, `1`, ...), `values` in that unit, NaN = no valid sample.
 */
export type Channel = Readonly<{ name: string; as: string; unit: string; values: Float64Array }>;

/**
 * What one value of a navigation selector means. `measured`: fed by that sensor; `propagated`: carried
 * on without measurements; `rejected`: measured and refused. `settlesS` is how long the solution
 * settles after it changed to this.
 */
export type NavigationState = Readonly<{
  value: number;
  name: string;
  kind: 'measured' | 'propagated' | 'rejected';
  settlesS: number;
}>;

/** What one value of a mode channel means, and the motion that it commands; null for none. */
export type CommandState = Readonly<{
  value: number;
  name: string;
  motion: 'hold' | 'closing' | 'opening' | null;
}>;

/** What the session file states about a telemetry source; `null` where not stated. */
export type TelemetryDeclaration = Stamping &
  Readonly<{
    points: string | null;
    velocityFrame: 'rotating' | 'inertial' | null;
    leverArmM: readonly number[] | null;
    accuracy: Readonly<Record<string, number>> | null;
    /** Both ends of what is measured; absent where nothing is stated of them. */
    between?: MeasuredBetween;
    /** Axes of position and velocity; absent for those of the target's port. */
    axes?: 'orbit';
    /** The orbit that the axes of the position go round with; absent where not stated. */
    orbit?: OrbitTurn;
    /** What the values come from; absent where not stated. */
    sensor?: string;
    /** Which column says what feeds the solution, and what its values mean; absent where not stated. */
    navigation?: Readonly<{ selector: string; states: readonly NavigationState[] }>;
    /** Which column says what was commanded, and what its values mean; absent where not stated. */
    modes?: Readonly<{ channel: string; states: readonly CommandState[] }>;
  }>;

/** Samples of one source: `tS` strictly ascending (repeats and steps back taken out and listed). */
export type TelemetrySource = Readonly<{
  type: 'telemetry';
  file: string;
  sha256: string;
  clock: ClockSpec;
  tS: Float64Array;
  channels: readonly Channel[];
  rowsRead: number;
  rowsRejected: number;
  stampFaults: readonly StampFault[];
  declared: TelemetryDeclaration;
}>;

/** One entry of a log. `text` and `speaker` as written; `event` only from an `event` column. */
export type LogEntry = Readonly<{
  sourceS: number;
  sourceEndS: number | null;
  event: string | null;
  text: string | null;
  speaker: string | null;
  line: number;
}>;

/** A row or cue of a log that was refused: `found` is what stood there, as far as it was told. */
export type LogReject = Readonly<{ line: number; found: string; reason: string }>;

/** A log; what it states of its stamps stands beside its entries. */
export type EventSource = StatedStamping &
  Readonly<{
    type: 'events';
    file: string;
    sha256: string;
    clock: ClockSpec;
    entries: readonly LogEntry[];
    rowsRead: number;
    rowsRejected: number;
    /** The refused rows, the first thousands of them; absent where none was refused. */
    rejects?: readonly LogReject[];
  }>;

export type SessionSource = TelemetrySource | EventSource;

/** Runs of a simulator: `files` as session.yaml names them, each run a source on its own clock. */
export type SimulationSet = Readonly<{
  files: string;
  /** The telemetry source whose description they share. */
  like: string;
  /** SHA-256 over a line "hash, two spaces, name" of each run, in the order of their names. */
  sha256: string;
  /** What is said about the runs; absent where nothing is. */
  about?: SimulationsAbout;
  runs: readonly TelemetrySource[];
}>;

export type SessionInput = Readonly<{
  title: string;
  kind: 'flight' | 'simulation';
  zero: Instant;
  /** The zero as written in session.yaml. */
  zeroUtc: string;
  /** What mission time counts from; absent where none is declared. */
  missionZero?: Instant;
  plan: Plan | null;
  planSha256: string | null;
  rules: readonly Rule[];
  rulesSha256: string | null;
  sources: readonly SessionSource[];
  /** What people said about the clocks; absent where nobody did. */
  clockCorrections?: readonly ClockCorrection[];
  /** What people said about stretches of channels; later ones count over earlier ones. */
  stretchCorrections?: readonly StretchCorrection[];
  /** What people said of phases and contact, in the order in which they said it; absent where nobody did. */
  phaseEdits?: readonly PhaseEdit[];
  /** What people decided about rules; absent where nobody did. */
  ruleDispositions?: readonly RuleDisposition[];
  /** Tasks that were flown by hand, and ratings given to them; absent where nobody named one. */
  handlingTasks?: readonly HandlingTask[];
  handlingRatings?: readonly HandlingRating[];
  /** Questions to the crew that came with the folder; nothing is computed from them. */
  crewQuestions?: readonly CrewQuestionWords[];
  /** Recordings that came with the folder; nothing is computed from them. */
  recordings?: readonly RecordingWords[];
  /** Simulator runs to hold the session against; absent where it names none. */
  simulations?: SimulationSet;
  /** Parts of the folder that were read but are not computed yet (`ephemeris`), to be said. */
  notComputed: readonly Issue[];
}>;
