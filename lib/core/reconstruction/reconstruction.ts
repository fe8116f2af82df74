/**
 * The reconstructed approach: what happened when, how far from plan, which rule held and by how
 * much. Pure data, JSON-safe but for nothing: every number that was computed is a Figure.
 *
 * Times are session time, elapsed SI seconds from zero. Units are SI and radians.
 */
import type { Review } from '../callouts/review-callouts';
import type { EvidenceSource, Figure } from '../figure';
import type { Issue } from '../result';
import type { BrokenStretch } from '../rules/rule-outcome';
import type { Plan } from '../session/plan';
import type { Rule } from '../session/rule';
import type { RuleDisposition } from '../session/rule-disposition';
import type { ApproachFigures } from './approach-report';
import type { Comparison } from './comparison';
import type { CaptureReport, Contact, SeenThing } from './contact-report';
import type { HandlingReport } from './handling';
import type { NavigationReport } from './navigation-report';
import type { PhaseEdits, SetEdge } from './phase-edits';
import type { SourceReport } from './source-report';
import type { ZoneReport } from './zone-report';

/** `crossing` is a hold with a larger speed across, where the plan gives `hold_cross_speed_mps`. */
export type Motion = 'hold' | 'closing' | 'opening' | 'crossing';

export type RateDeviation = Readonly<{
  meanMps: Figure;
  rmsMps: Figure;
  peakMps: Figure;
  peakS: Figure;
  peakRangeM: Figure;
  outsideToleranceS: Figure;
}>;

/**
 * One run of motion. `step` is the plan's step it was matched to, `piece` its 1-based number in it.
 * `startSet`, `endSet` and `stepSet` say what people set, with what was computed; absent where nobody did.
 */
export type Phase = Readonly<{
  step: string | null;
  piece: number | null;
  motion: Motion;
  startS: Figure;
  endS: Figure;
  durationS: Figure;
  rangeStartM: Figure;
  rangeEndM: Figure;
  meanClosingRateMps: Figure;
  peakClosingRateMps: Figure;
  rateDeviation: RateDeviation | null;
  startSet?: SetEdge;
  endSet?: SetEdge;
  stepSet?: Readonly<{ by: string | null; computedStep: string | null }>;
}>;

/**
 * A stretch of one declared mode, and the run of motion that carried it out: `run` is its index in `phases`,
 * null where there is none. `delayS` is null where the motion does not begin on it; `why` says so, and is
 * null for a mode that commands no motion. `endS` is where the next mode begins, s.
 */
export type CommandedPhase = Readonly<{
  name: string;
  motion: 'hold' | 'closing' | 'opening' | null;
  startS: Figure;
  endS: number;
  run: number | null;
  delayS: Figure | null;
  why: string | null;
}>;

export type StepResult = Readonly<{
  id: string;
  pieces: number;
  startS: Figure | null;
  endS: Figure | null;
  durationS: Figure | null;
  plannedS: number;
  durationDeviationS: Figure | null;
  /** Of a hold that the data end in, by its best length. */
  completed: boolean;
  /** The 95 % interval of that length holds both; absent where it does not. */
  completionUndecided?: true;
}>;

export type Verdict = 'met' | 'broken' | 'undecided' | 'not applicable' | 'not evaluated';

export type ReasonCode =
  | 'no-such-channel'
  | 'no-such-event'
  | 'step-not-flown'
  | 'no-event-log'
  | 'data-missing';

export type RuleResult = Readonly<{
  id: string;
  verdict: Verdict;
  /** SI; positive = room left. null where the verdict has none (`never`, not evaluated). */
  margin: Figure | null;
  instantMargin: Figure | null;
  /** The unit margins are shown in; null where there is no margin. */
  unit: string | null;
  reason: ReasonCode | null;
  /** One sentence for a person: why this verdict. */
  explanation: string;
  /** Session time at which the margin is smallest, or of the event seen; null where neither. */
  atS: number | null;
  /** Where a rule about events was broken, s; absent of every other rule. */
  brokenOver?: readonly BrokenStretch[];
}>;

/** What people decided about a rule, with the entry it rests on. The verdict is not touched by it. */
export type DispositionResult = RuleDisposition &
  Readonly<{
    /** Words of the entry; null without one. */
    entryWords: string | null;
    /** What of it is not there: the rule or the entry; null where all is. */
    fault: string | null;
  }>;

export type Exceedance = Readonly<{
  rule: string;
  startS: Figure;
  endS: Figure;
  durationS: Figure;
  worstS: Figure;
  worst: Figure;
  limit: Figure;
  unit: string;
  /** Index into `phases` of the run in which it starts. */
  phase: number | null;
}>;

/** One thing of the as-flown sequence; `seen` empty where it was planned and not seen. */
export type SequenceItem = Readonly<{
  key: string;
  kind: 'step' | 'run' | 'contact' | 'capture' | 'zone' | 'event' | 'state';
  what: string;
  plannedS: Figure | null;
  seen: readonly SeenThing[];
  differenceS: Figure | null;
  note: string | null;
  /** Why nothing could have shown it, so that it may have happened; absent where it could be seen. */
  notKnown?: string;
  /** Of kind `state`: which channel went from what to what; absent of others, and in older ones. */
  change?: Readonly<{
    source: string;
    channel: string;
    from: number;
    to: number;
    /** Names of the states in the session file; absent where it has none. */
    fromName?: string;
    toName?: string;
  }>;
}>;

/** An event or a spoken line on session time. `source` is the file. */
export type SessionEvent = Readonly<{
  timeS: number;
  endS: number | null;
  source: string;
  line: number;
  event: string | null;
  text: string | null;
  speaker: string | null;
}>;

export type Callout = Readonly<{
  timeS: number;
  kind: 'range' | 'rate';
  /** m or m/s. */
  said: Figure;
  telemetry: Figure;
  difference: Figure;
  text: string;
  doubtful: boolean;
  source: string;
  /** Line of the log, and which of that line's values it is, from 1: how corrections name it. */
  line: number;
  nth: number;
  /** What a person made of it; null where nobody looked. */
  review: Review;
}>;

export type FaultKind =
  | 'gap'
  | 'frozen'
  | 'saturated'
  | 'spike'
  | 'step'
  | 'duplicate'
  | 'out_of_order'
  | 'held'
  | 'left_out'
  | 'rate_disagrees';

export type DataFault = Readonly<{
  kind: FaultKind;
  source: string;
  channel: string | null;
  startS: number;
  endS: number;
  note: string;
}>;

/** A named derived column over the telemetry rows, for strips and figures. NaN = no value. */
export type DerivedColumn = Readonly<{
  name: string;
  label: string;
  unit: string;
  values: Float64Array;
}>;

/**
 * The estimated motion at each row used: `range`, `closing_rate`, `axial_distance`,
 * `axial_closing_rate`, `lateral_offset`, `offset_y`, `offset_z`, `planned_closing_rate`, and for each rule on a
 * quantity `limit.<rule id>`, of two bounds the lower one `limit_low.<rule id>`, and `bounded.<rule id>` where what it
 * bounds is formed for it alone. `tS` is session time, strictly ascending.
 */
export type DerivedColumns = Readonly<{ tS: Float64Array; columns: readonly DerivedColumn[] }>;

export type Reconstruction = Readonly<{
  format: 'wakeline/core-reconstruction/1';
  /** Version of the numerics: a hash of the core's sources, given by the caller. */
  engine: string;
  /** SHA-256 over the canonical description of all inputs. */
  inputsSha256: string;
  session: Readonly<{
    title: string;
    kind: 'flight' | 'simulation';
    zeroUtc: string;
    zeroTaiNs: string;
    /** What mission time counts from; absent where none is declared. */
    missionZeroTaiNs?: string;
    durationS: Figure;
  }>;
  /** The stretch in which phases, rules and exceedances were evaluated. */
  evaluated: Readonly<{ fromS: number; toS: number }> | null;
  plan: Plan | null;
  ruleSet: readonly Rule[];
  /** What states the plan and the rules; absent without them, and in older ones. */
  planFile?: EvidenceSource;
  rulesFile?: EvidenceSource;
  sources: readonly SourceReport[];
  phases: readonly Phase[];
  /** Modes as commanded beside the motion; absent where no source declares its modes. */
  commanded?: readonly CommandedPhase[];
  steps: readonly StepResult[];
  rules: readonly RuleResult[];
  dispositions: readonly DispositionResult[];
  exceedances: readonly Exceedance[];
  contact: Contact | null;
  capture: CaptureReport | null;
  /** Stays inside the plan's zones; absent where it declares none. */
  zones?: readonly ZoneReport[];
  /** In the order flown. */
  sequence: readonly SequenceItem[];
  /** Places along the approach and its deviation from plan; null where no motion was estimated. */
  approach: ApproachFigures | null;
  /** Whether the navigation can be trusted; null where no motion was estimated. */
  navigation: NavigationReport | null;
  /** Tasks flown by hand, measured and rated. */
  handling: HandlingReport;
  /** The final step against simulator runs; `null` where there are none or it was not flown. */
  comparison: Comparison | null;
  callouts: readonly Callout[];
  events: readonly SessionEvent[];
  dataQuality: readonly DataFault[];
  /** What people said of phases and contact, each with what was computed; absent where nobody did. */
  phaseEdits?: PhaseEdits;
  /** What was not computed or not known, in sentences. */
  notes: readonly Issue[];
}>;
