/** Every figure of a reconstruction under the key by which people and documents name it. */
import { type Figure, halfWidth95 } from '../figure';
import { CONTACT_KEYS } from './contract-file';
import { valueInUnit } from './display-unit';
import type { Reconstruction } from './reconstruction';

type Add = (key: string, figure: Figure | null) => void;

function addSources(reconstruction: Reconstruction, add: Add): void {
  for (const source of reconstruction.sources) {
    add(`sources[${source.file}].clock.offset_s`, source.clock.offsetS);
    add(`sources[${source.file}].clock.drift_ppm`, source.clock.driftPpm);
  }
}

function addPhases(reconstruction: Reconstruction, add: Add): void {
  reconstruction.phases.forEach((phase, index) => {
    const at = `phases[${index}]`;
    add(`${at}.start_s`, phase.startS);
    add(`${at}.end_s`, phase.endS);
    add(`${at}.duration_s`, phase.durationS);
    add(`${at}.range_start_m`, phase.rangeStartM);
    add(`${at}.range_end_m`, phase.rangeEndM);
    add(`${at}.mean_closing_rate_mps`, phase.meanClosingRateMps);
    add(`${at}.peak_closing_rate_mps`, phase.peakClosingRateMps);
    const deviation = phase.rateDeviation;
    if (deviation === null) return;
    add(`${at}.rate_deviation.mean_mps`, deviation.meanMps);
    add(`${at}.rate_deviation.rms_mps`, deviation.rmsMps);
    add(`${at}.rate_deviation.peak_mps`, deviation.peakMps);
    add(`${at}.rate_deviation.peak_s`, deviation.peakS);
    add(`${at}.rate_deviation.peak_range_m`, deviation.peakRangeM);
    add(`${at}.rate_deviation.outside_tolerance_s`, deviation.outsideToleranceS);
  });
}

function addCommanded({ commanded = [] }: Reconstruction, add: Add): void {
  commanded.forEach(({ startS, delayS }, index) => {
    add(`commanded[${index}].start_s`, startS);
    add(`commanded[${index}].delay_s`, delayS);
  });
}

function addStepsAndRules(reconstruction: Reconstruction, add: Add): void {
  for (const step of reconstruction.steps) {
    const at = `steps[${step.id}]`;
    add(`${at}.start_s`, step.startS);
    add(`${at}.end_s`, step.endS);
    add(`${at}.duration_s`, step.durationS);
    add(`${at}.duration_deviation_s`, step.durationDeviationS);
  }
  for (const rule of reconstruction.rules) {
    add(`rules[${rule.id}].margin`, rule.margin);
    add(`rules[${rule.id}].instant_margin`, rule.instantMargin);
  }
  reconstruction.exceedances.forEach((exceedance, index) => {
    const at = `exceedances[${index}]`;
    add(`${at}.start_s`, exceedance.startS);
    add(`${at}.end_s`, exceedance.endS);
    add(`${at}.duration_s`, exceedance.durationS);
    add(`${at}.worst_s`, exceedance.worstS);
    add(`${at}.worst`, exceedance.worst);
    add(`${at}.limit`, exceedance.limit);
  });
}

function addContactAndCallouts(reconstruction: Reconstruction, add: Add): void {
  if (reconstruction.contact !== null) {
    add('contact.time_s', reconstruction.contact.timeS);
    for (const [condition, suffix] of CONTACT_KEYS) {
      add(`contact.${condition}_${suffix}`, reconstruction.contact.conditions[condition] ?? null);
    }
  }
  addCapture(reconstruction, add);
  reconstruction.callouts.forEach((callout, index) => {
    const at = `callouts[${index}]`;
    add(`${at}.${callout.kind === 'range' ? 'said_m' : 'said_mps'}`, callout.said);
    add(`${at}.telemetry`, callout.telemetry);
    add(`${at}.difference`, callout.difference);
  });
}

function addCapture({ capture }: Reconstruction, add: Add): void {
  if (capture === null) return;
  add('capture.report_delay_s', capture.reportDelayS);
  for (const stage of capture.stages) {
    add(`capture.${stage.stage}.after_contact_s`, stage.afterContactS);
    add(`capture.${stage.stage}.difference_s`, stage.differenceS);
  }
  add('capture.peak_speed_mps', capture.settling.peakMps);
  add('capture.retraction_s', capture.retraction?.durationS ?? null);
  add('capture.drawn_in_m', capture.retraction?.drawnInM ?? null);
  add('capture.latches_closed', capture.latches.closed);
}

function addHandling({ handling }: Reconstruction, add: Add): void {
  for (const task of handling.tasks) {
    const at = `handling[${task.name}]`;
    add(`${at}.inside_desired`, task.insideDesired);
    add(`${at}.inside_adequate`, task.insideAdequate);
    add(`${at}.overshoots`, task.overshoots);
    add(`${at}.bias`, task.bias);
    add(`${at}.rms`, task.rms);
    add(`${at}.peak`, task.peak);
    add(`${at}.sim_inside_desired`, task.simulator?.insideDesired ?? null);
    add(`${at}.sim_inside_adequate`, task.simulator?.insideAdequate ?? null);
    add(`${at}.sim_overshoots`, task.simulator?.overshoots ?? null);
    add(`${at}.sim_bias`, task.simulator?.bias ?? null);
    add(`${at}.sim_rms`, task.simulator?.rms ?? null);
    add(`${at}.sim_peak`, task.simulator?.peak ?? null);
    for (const axis of task.activity) {
      add(`${at}.${axis.axis}.duty`, axis.duty);
      add(`${at}.${axis.axis}.aggressiveness`, axis.aggressiveness);
      add(`${at}.${axis.axis}.cut_off_hz`, axis.cutOffHz);
      add(`${at}.${axis.axis}.residual_rate`, axis.residualRate);
      add(`${at}.${axis.axis}.coupling`, axis.coupling);
      add(`${at}.${axis.axis}.firings`, axis.firings);
      add(`${at}.${axis.axis}.jet_duty`, axis.jetDuty);
    }
  }
}

function addComparison({ comparison }: Reconstruction, add: Add): void {
  if (comparison === null) return;
  for (const score of comparison.scores) {
    const at = `comparison.scores[${score.name}]`;
    add(`${at}.flight`, score.flight);
    add(`${at}.sim_median`, score.simMedian);
    add(`${at}.sim_p95`, score.simP95);
    add(`${at}.runs_below`, score.rank);
  }
  add('comparison.nearest.distance', comparison.nearest?.distance ?? null);
  for (const { key, flight, simulator, ratio } of comparison.measures ?? []) {
    add(`comparison.measures[${key}].flight`, flight);
    add(`comparison.measures[${key}].sim_median`, simulator);
    add(`comparison.measures[${key}].ratio`, ratio ?? null);
  }
  for (const axis of comparison.vehicle) add(`comparison.vehicle[${axis.axis}].ratio`, axis.ratio);
  for (const axis of comparison.axes) add(`comparison.axes[${axis.axis}].ratio`, axis.ratio);
  for (const quantity of comparison.quantities) {
    const at = `comparison.quantities[${quantity.name}]`;
    add(`${at}.places`, quantity.flightPlaces);
    add(`${at}.runs_there`, quantity.bandPlaces);
    add(`${at}.share_outside`, quantity.shareOutside);
    add(`${at}.chance_median`, quantity.chanceMedian);
    add(`${at}.chance_p95`, quantity.chanceP95);
    for (const [index, pair] of quantity.pairs.entries()) {
      const of = `${at}.pairs[${index}]`;
      add(`${of}.bias`, pair.bias);
      add(`${of}.rms`, pair.rms);
      add(`${of}.peak`, pair.peak);
      add(`${of}.inside`, pair.inside);
      add(`${of}.lag_s`, pair.lag);
      add(`${of}.theil`, pair.theil);
      add(`${of}.theil_bias`, pair.theilBias);
      add(`${of}.theil_variance`, pair.theilVariance);
      add(`${of}.theil_covariance`, pair.theilCovariance);
    }
  }
}

function addProfile({ approach }: Reconstruction, add: Add): void {
  for (const each of approach?.deviations ?? []) {
    if (each.part !== 'profile') continue;
    const range = `${each.fromM.toFixed(0)} to ${each.toM.toFixed(0)} m`;
    const at = `profile[${each.step}, piece ${each.piece}, ${range}]`;
    add(`${at}.deviation_mps`, each.deviationMps);
    add(`${at}.behind_plan_s`, each.lateS);
  }
}

function addNavigation({ navigation }: Reconstruction, add: Add): void {
  navigation?.steps.forEach(({ atS, axes }, index) => {
    const at = `solution_steps[${index}]`;
    add(`${at}.time_s`, atS);
    for (const { axis, positionM, velocityMps } of axes) {
      add(`${at}.position_${axis}_m`, positionM);
      add(`${at}.velocity_${axis}_mps`, velocityMps);
    }
  });
  for (const pair of navigation?.pairs ?? []) {
    add(`second_range[${pair.second}].bias_m`, pair.biasM);
    add(`second_range[${pair.second}].scatter_m`, pair.scatterM);
  }
  for (const { axis, differenceMps } of navigation?.turning ?? [])
    add(`turning_axes[${axis}].difference_mps`, differenceMps);
}

function addPhaseEdits({ phaseEdits }: Reconstruction, add: Add): void {
  phaseEdits?.results.forEach(({ setS, computedS }, index) => {
    add(`phase_corrections[${index}].set_s`, setS);
    add(`phase_corrections[${index}].computed_s`, computedS);
  });
}

function addZones({ zones = [] }: Reconstruction, add: Add): void {
  for (const { id, insideS, passes } of zones) {
    add(`zones[${id}].inside_s`, insideS);
    passes.forEach((pass, index) => {
      const at = `zones[${id}, stay ${index + 1}]`;
      add(`${at}.enter_s`, pass.enterS);
      add(`${at}.leave_s`, pass.leaveS);
      add(`${at}.inside_s`, pass.insideS);
    });
  }
}

/**
 * All figures by key. Keys are the paths of `reconstruction.json`, with a step, rule or source
 * named by its id instead of its place: `phases[2].duration_s`, `steps[to-30].duration_s`,
 * `rules[corridor].margin`, `contact.closing_rate_mps`, `sources[telemetry.csv].clock.offset_s`.
 *
 * @param reconstruction a computed reconstruction
 * @returns key to figure, in the order of the file. Values are SI and radians as `Figure.unit`
 *   says, also where the key ends in a file's unit (`_deg`, `_dps`)
 */
export function listFigures(reconstruction: Reconstruction): ReadonlyMap<string, Figure> {
  const figures = new Map<string, Figure>();
  const add: Add = (key, figure) => {
    if (figure !== null) figures.set(key, figure);
  };
  add('session.duration_s', reconstruction.session.durationS);
  addSources(reconstruction, add);
  addPhases(reconstruction, add);
  addCommanded(reconstruction, add);
  addStepsAndRules(reconstruction, add);
  addContactAndCallouts(reconstruction, add);
  addComparison(reconstruction, add);
  addHandling(reconstruction, add);
  addProfile(reconstruction, add);
  addNavigation(reconstruction, add);
  addZones(reconstruction, add);
  addPhaseEdits(reconstruction, add);
  return figures;
}

/** The unit that a key's ending asks for, where it is not the figure's own. */
function unitOfKey(key: string, figure: Figure): string {
  if (key.endsWith('_deg')) return 'deg';
  if (key.endsWith('_dps')) return 'deg/s';
  return figure.unit;
}

function digitsFor(value: number, halfWidth: number | null): number {
  if (halfWidth === null || halfWidth <= 0) return Number.isInteger(value) ? 0 : 4;
  return Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(halfWidth))));
}

function valueLine(key: string, figure: Figure): string {
  if (figure.value === null) return `${key}: no value${figure.reason ? ` (${figure.reason})` : ''}`;
  const unit = unitOfKey(key, figure);
  const value = valueInUnit(figure.value, unit);
  const width = halfWidth95(figure);
  const shown = width === null ? null : valueInUnit(width, unit);
  const digits = digitsFor(value, shown);
  const plusMinus = shown === null ? '' : ` +/- ${shown.toFixed(digits)}`;
  return `${key} = ${value.toFixed(digits)}${plusMinus} ${unit}`;
}

/**
 * One figure with its method and its evidence, as lines of text for a terminal.
 *
 * @param reconstruction a computed reconstruction
 * @param key a key of `listFigures`
 * @returns the lines; for a key that is not there, one line that says so with the keys nearest it
 */
export function explainFigure(reconstruction: Reconstruction, key: string): string {
  const figures = listFigures(reconstruction);
  const figure = figures.get(key);
  if (figure === undefined) {
    const stem = key.split(/[[.]/)[0] ?? key;
    const near = [...figures.keys()].filter((known) => known.startsWith(stem)).slice(0, 12);
    const offer = near.length > 0 ? near : [...figures.keys()].slice(0, 12);
    return `No figure "${key}". Figures there are: ${offer.join(', ')}${figures.size > offer.length ? ', ...' : ''}`;
  }
  const { evidence, uncertainty } = figure;
  const part = (name: string, half: number | null): string =>
    half === null
      ? `${name} not known`
      : `${name} ${valueInUnit(half, unitOfKey(key, figure)).toPrecision(3)}`;
  const lines = [valueLine(key, figure)];
  if (uncertainty !== null) {
    lines.push(
      `95 % half-width: ${part('random', uncertainty.random)}, ${part('systematic', uncertainty.systematic)} (${unitOfKey(key, figure)})`,
    );
  }
  lines.push(`method: ${figure.method}`);
  for (const sentence of evidence.people ?? []) lines.push(`set by a person: ${sentence}`);
  if (figure.reason !== undefined) lines.push(`reason: ${figure.reason}`);
  if (evidence.fromS !== null && evidence.toS !== null) {
    lines.push(
      `from ${evidence.fromS.toFixed(3)} s to ${evidence.toS.toFixed(3)} s of session time`,
    );
  }
  if (evidence.channels.length > 0) lines.push(`channels: ${evidence.channels.join(', ')}`);
  if (evidence.runs !== undefined) lines.push(`simulator: ${evidence.runs}`);
  for (const source of evidence.sources)
    lines.push(`source: ${source.file} sha256 ${source.sha256}`);
  lines.push(`numerics: ${reconstruction.engine}, inputs sha256 ${reconstruction.inputsSha256}`);
  return lines.join('\n');
}
