/** Reads plan.yaml. */
import { hasErrors, type Issue } from '../result';
import type { PartlyRead } from './file-faults';
import type { Plan, PlanStep } from './plan';
import { type PlanFileData, planFileSchema } from './plan-schema';
import { readProfile } from './profile-schema';
import { readCapturePlan, readContactLimits } from './read-capture-plan';
import { readZone } from './read-zone';
import { capIssues, checkSchema, makeReport, type Report } from './schema-issues';
import { readYaml } from './yaml-text';

/** Braking assumed where the plan gives none, m/s2 (folder format: `acceleration_mps2`). */
export const DEFAULT_ACCELERATION_MPS2 = 0.01;

type StepData = PlanFileData['plan']['steps'][number];

function readStep(step: StepData, index: number, report: Report): PlanStep {
  if ('hold_m' in step) {
    return {
      kind: 'hold',
      id: step.id,
      holdM: step.hold_m,
      toleranceM: step.tolerance_m,
      plannedS: step.planned_s,
    };
  }
  return {
    kind: 'move',
    id: step.id,
    toM: step.to_m,
    plannedS: step.planned_s,
    closingRateMps: readProfile(
      step.closing_rate_mps,
      ['plan', 'steps', index, 'closing_rate_mps'],
      report,
    ),
    toleranceMps: step.tolerance_mps,
  };
}

/** Reports ids that stand twice in a list. */
export function reportRepeatedIds(
  ids: readonly string[],
  pathOf: (index: number) => readonly (string | number)[],
  report: Report,
): void {
  const first = new Map<string, number>();
  ids.forEach((id, index) => {
    if (first.has(id)) {
      report(pathOf(index), {
        code: 'id-twice',
        message: `the id "${id}" is taken already`,
        expected: 'an id of its own',
        received: id,
      });
    } else first.set(id, index);
  });
}

/**
 * Reads a plan file.
 *
 * @param text YAML or JSON
 * @param fileName for the issues
 * @returns the plan in SI; `value` is null where one of the issues is an error, `understood` where
 *   the ids of its steps are not known
 */
export function readPlanFile(text: string, fileName: string): PartlyRead<Plan> {
  const yaml = readYaml(text, fileName);
  if (yaml.value === null) return { value: null, understood: null, issues: yaml.issues };
  const checked = checkSchema(planFileSchema, yaml.value);
  const issues: Issue[] = [...yaml.issues, ...checked.issues];
  if (checked.understood === null) {
    return { value: null, understood: null, issues: capIssues(issues, fileName) };
  }
  const { plan } = checked.understood;
  const report = makeReport(yaml.value, issues, checked.faults);
  const steps = plan.steps.map((step, index) => readStep(step, index, report));
  reportRepeatedIds(
    steps.map((step) => step.id),
    (index) => ['plan', 'steps', index, 'id'],
    report,
  );
  const zones = plan.zones?.map((zone, index) => readZone(zone, ['plan', 'zones', index], report));
  reportRepeatedIds(
    (zones ?? []).map((zone) => zone.id),
    (index) => ['plan', 'zones', index, 'id'],
    report,
  );
  const read: Plan = {
    title: plan.title,
    holdRateMps: plan.hold_rate_mps,
    holdDwellS: plan.hold_dwell_s,
    holdCrossSpeedMps: plan.hold_cross_speed_mps ?? null,
    accelerationMps2: plan.acceleration_mps2 ?? DEFAULT_ACCELERATION_MPS2,
    contactAxialM: plan.contact_axial_m ?? 0,
    steps,
    ...(plan.contact_limits === undefined
      ? {}
      : {
          contactLimits: readContactLimits(plan.contact_limits, ['plan', 'contact_limits'], report),
        }),
    ...(plan.capture === undefined
      ? {}
      : { capture: readCapturePlan(plan.capture, ['plan', 'capture'], report) }),
    ...(zones === undefined ? {} : { zones }),
  };
  const hasIds = steps.every((_, index) => !checked.faults.touches(['plan', 'steps', index, 'id']));
  return {
    value: hasErrors(issues) ? null : read,
    understood: hasIds ? read : null,
    issues: capIssues(issues, fileName),
  };
}
