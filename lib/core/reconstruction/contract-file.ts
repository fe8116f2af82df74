/** The reconstruction in its plain-file form, `reconstruction.json`. */
import { type Figure, halfWidth95 } from '../figure';
import { phaseEditData } from '../session/phase-edit-file';
import { dispositionData } from '../session/rule-disposition';
import { comparisonEntry } from './comparison-file';
import type { Contact } from './contact-report';
import { valueInUnit } from './display-unit';
import type { PhaseEditResult } from './phase-edits';
import type {
  DispositionResult,
  Exceedance,
  Phase,
  RateDeviation,
  Reconstruction,
  RuleResult,
  StepResult,
} from './reconstruction';
import type { SourceReport } from './source-report';

/** The contract's key of each contact condition: stem, and the unit that ends it. */
export const CONTACT_KEYS: readonly (readonly [
  condition: string,
  suffix: string,
  fileUnit: string,
])[] = [
  ['closing_rate', 'mps', 'm/s'],
  ['lateral_offset', 'm', 'm'],
  ['lateral_rate', 'mps', 'm/s'],
  ['attitude_error_pitch_yaw', 'deg', 'deg'],
  ['attitude_error_roll', 'deg', 'deg'],
  ['body_rate_pitch_yaw', 'dps', 'deg/s'],
  ['body_rate_roll', 'dps', 'deg/s'],
];

function value(figure: Figure | null): number | null {
  return figure === null ? null : figure.value;
}

function uncertainty(figure: Figure | null): number | null {
  return figure === null ? null : halfWidth95(figure);
}

function inUnit(number: number | null, unit: string | null): number | null {
  return number === null || unit === null ? number : valueInUnit(number, unit);
}

function sourceEntry(source: SourceReport): object {
  const { clock } = source;
  return {
    file: source.file,
    sha256: source.sha256,
    type: source.type,
    rows_read: source.rowsRead,
    rows_rejected: source.rowsRejected,
    clock: {
      offset_s: value(clock.offsetS),
      offset_uncertainty_s: uncertainty(clock.offsetS),
      drift_ppm: value(clock.driftPpm),
      drift_uncertainty_ppm: uncertainty(clock.driftPpm),
      residual_rms_s: clock.residualRmsS,
      tie_points_used: clock.tiePointsUsed,
      tie_points_rejected: clock.tiePointsRejected,
      reason: clock.reason,
    },
  };
}

function rateDeviationEntry(deviation: RateDeviation): object {
  return {
    mean_mps: value(deviation.meanMps),
    rms_mps: value(deviation.rmsMps),
    peak_mps: value(deviation.peakMps),
    peak_s: value(deviation.peakS),
    peak_range_m: value(deviation.peakRangeM),
    outside_tolerance_s: value(deviation.outsideToleranceS),
  };
}

function phaseEntry(phase: Phase): object {
  return {
    step: phase.step,
    motion: phase.motion,
    start_s: value(phase.startS),
    end_s: value(phase.endS),
    duration_s: value(phase.durationS),
    start_uncertainty_s: uncertainty(phase.startS),
    end_uncertainty_s: uncertainty(phase.endS),
    range_start_m: value(phase.rangeStartM),
    range_end_m: value(phase.rangeEndM),
    mean_closing_rate_mps: value(phase.meanClosingRateMps),
    peak_closing_rate_mps: value(phase.peakClosingRateMps),
    rate_deviation: phase.rateDeviation === null ? null : rateDeviationEntry(phase.rateDeviation),
  };
}

function stepEntry(step: StepResult): object {
  return {
    id: step.id,
    pieces: step.pieces,
    start_s: value(step.startS),
    end_s: value(step.endS),
    duration_s: value(step.durationS),
    planned_s: step.plannedS,
    duration_deviation_s: value(step.durationDeviationS),
    completed: step.completed,
  };
}

function ruleEntry(rule: RuleResult): object {
  return {
    id: rule.id,
    verdict: rule.verdict,
    margin: inUnit(value(rule.margin), rule.unit),
    margin_uncertainty: inUnit(uncertainty(rule.margin), rule.unit),
    instant_margin: inUnit(value(rule.instantMargin), rule.unit),
    unit: rule.unit,
    reason: rule.reason,
  };
}

function exceedanceEntry(exceedance: Exceedance): object {
  return {
    rule: exceedance.rule,
    start_s: value(exceedance.startS),
    end_s: value(exceedance.endS),
    duration_s: value(exceedance.durationS),
    worst_s: value(exceedance.worstS),
    worst: inUnit(value(exceedance.worst), exceedance.unit),
    limit: inUnit(value(exceedance.limit), exceedance.unit),
    unit: exceedance.unit,
    phase: exceedance.phase,
  };
}

function contactEntry(contact: Contact): object {
  const entry: Record<string, number | string | null> = {
    time_s: value(contact.timeS),
    time_uncertainty_s: uncertainty(contact.timeS),
    basis: contact.basis,
  };
  for (const [condition, suffix, unit] of CONTACT_KEYS) {
    const figure = contact.conditions[condition];
    if (figure === undefined) continue;
    entry[`${condition}_${suffix}`] = inUnit(figure.value, unit);
    entry[`${condition}_uncertainty_${suffix}`] = inUnit(halfWidth95(figure), unit);
  }
  return entry;
}

/** As people.yaml writes it, with what became of it; beyond the contract, only where people said it. */
function correctionEntry({ edit, outcome, computedS, computedStep }: PhaseEditResult): object {
  return {
    ...phaseEditData(edit),
    applied: outcome.state === 'applied',
    ...(outcome.fault === null ? {} : { fault: outcome.fault }),
    ...(edit.kind === 'name-run'
      ? { computed_step: computedStep }
      : { computed_s: value(computedS), computed_uncertainty_s: uncertainty(computedS) }),
  };
}

/** As people.yaml writes it, with what became of it; beyond the contract, only where people said it. */
function dispositionEntry({ entryWords, fault, ...disposition }: DispositionResult): object {
  return {
    ...dispositionData(disposition),
    entry_words: entryWords,
    ...(fault === null ? {} : { fault }),
  };
}

/**
 * The reconstruction under the names and in the units of the session folder's contract: degrees
 * where a key says so, margins and exceedances in the unit their rule was written in.
 *
 * @param reconstruction a computed reconstruction
 * @returns a plain object for JSON, keys in the contract's order; `null` where there is no value
 */
export function reconstructionFile(reconstruction: Reconstruction): object {
  const { session } = reconstruction;
  return {
    format: 'wakeline/reconstruction/1',
    session: {
      title: session.title,
      kind: session.kind,
      zero_utc: session.zeroUtc,
      duration_s: value(session.durationS),
    },
    sources: reconstruction.sources.map(sourceEntry),
    phases: reconstruction.phases.map(phaseEntry),
    steps: reconstruction.steps.map(stepEntry),
    rules: reconstruction.rules.map(ruleEntry),
    exceedances: reconstruction.exceedances.map(exceedanceEntry),
    contact: reconstruction.contact === null ? null : contactEntry(reconstruction.contact),
    callouts: reconstruction.callouts.map((callout) => ({
      time_s: callout.timeS,
      [callout.kind === 'range' ? 'said_m' : 'said_mps']: value(callout.said),
      telemetry: value(callout.telemetry),
      difference: value(callout.difference),
      text: callout.text,
      doubtful: callout.doubtful,
    })),
    data_quality: reconstruction.dataQuality.map((fault) => ({
      kind: fault.kind,
      source: fault.source,
      channel: fault.channel,
      start_s: fault.startS,
      end_s: fault.endS,
    })),
    ...(reconstruction.phaseEdits === undefined
      ? {}
      : { phase_corrections: reconstruction.phaseEdits.results.map(correctionEntry) }),
    ...(reconstruction.dispositions.length === 0
      ? {}
      : { rule_dispositions: reconstruction.dispositions.map(dispositionEntry) }),
    comparison:
      reconstruction.comparison === null ? null : comparisonEntry(reconstruction.comparison),
  };
}
