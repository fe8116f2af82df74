/** Reads what plan.yaml says about contact limits and capture. */
import {
  CAPTURE_STAGES,
  type CapturePlan,
  DEFAULT_CAPTURE,
  type PlannedStage,
  unplannedStage,
} from './capture-plan';
import type { CaptureData, ContactLimitsData } from './capture-schema';
import {
  BOUNDED_CONDITIONS,
  type ContactLimitTable,
  contactLimitTable,
} from './contact-limit-table';
import type { Report } from './schema-issues';
import type { KeyPath } from './yaml-text';

/**
 * Reads the stages of capture.
 *
 * @param path key path of `capture`
 * @returns all four stages in their order, those that are not named with the usual event
 */
export function readCapturePlan(data: CaptureData, path: KeyPath, report: Report): CapturePlan {
  const stages = CAPTURE_STAGES.map((stage): PlannedStage => {
    const said = data[stage];
    const usual = unplannedStage(stage);
    if (said === undefined) return usual;
    return {
      stage,
      event: said.event ?? usual.event,
      afterContactS: said.after_contact_s ?? null,
      toleranceS: said.tolerance_s ?? null,
    };
  });
  let before: PlannedStage | null = null;
  for (const one of stages) {
    if (one.afterContactS === null) continue;
    if (before?.afterContactS != null && one.afterContactS < before.afterContactS) {
      report([...path, one.stage, 'after_contact_s'], {
        code: 'capture-order',
        message: `${one.stage} is planned ${one.afterContactS} s after contact, before ${before.stage} at ${before.afterContactS} s`,
        expected: `${before.afterContactS} or more`,
        received: `${one.afterContactS}`,
      });
    }
    before = one;
  }
  return {
    stages,
    settledMps: data.damping?.settled_mps ?? DEFAULT_CAPTURE.settledMps,
    settledForS: data.damping?.settled_for_s ?? DEFAULT_CAPTURE.settledForS,
    latches: data.hard_capture?.latches ?? DEFAULT_CAPTURE.latches,
    latchEvent: data.hard_capture?.latch_event ?? DEFAULT_CAPTURE.latchEvent,
  };
}

/** Reads a plan's own limits on the conditions at contact; what it does not name is not bounded. */
export function readContactLimits(
  data: ContactLimitsData,
  path: KeyPath,
  report: Report,
): ContactLimitTable {
  const bounds: Record<string, readonly [number | null, number]> = {};
  for (const { key } of BOUNDED_CONDITIONS) {
    const said = data[key as keyof ContactLimitsData] as ContactLimitsData['lateral_offset_m'];
    if (said === undefined) continue;
    const [atLeast, atMost] = typeof said === 'number' ? [null, said] : said;
    if (atLeast !== null && atLeast > atMost) {
      report([...path, key], {
        code: 'bounds-reversed',
        message: `must be [at least, at most], found [${atLeast}, ${atMost}]`,
        expected: '[at least, at most]',
        received: `[${atLeast}, ${atMost}]`,
      });
    }
    bounds[key] = [atLeast, atMost];
  }
  return contactLimitTable(data.title ?? 'Limits of the plan', data.source, bounds);
}
