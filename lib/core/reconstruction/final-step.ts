/** The last step of a plan as one session or one simulator run flew it. */
import { type SteadyRates, steadyRates } from '../motion/steady-rates';
import { findContactTime } from '../phases/contact-time';
import type { EstimatedQuantity, StepSpan } from '../rules/rule-context';
import type { MoveStep, Plan } from '../session/plan';
import type { TelemetrySource } from '../session/session-input';
import type { RunLeftOut } from './comparison';
import { type CheckedSource, checkSource } from './data-quality';
import { estimateSessionMotion, motionOfPorts, type SessionMotion } from './estimated-motion';
import { lastEdge } from './last-edge';
import { findPhases } from './phase-figures';
import { placeTelemetry, rowsOnSession } from './placed-sources';
import { bringToPorts } from './port-sources';
import { quantityByName } from './quantities';
import { stepSpans } from './step-figures';

/** A motion with the stretch of its final step, s of its own time. */
export type FinalStep = Readonly<{
  name: string;
  sha256: string;
  session: SessionMotion;
  startS: number;
  endS: number;
  /** 95 % half-width of the duration, s. */
  durationHalfS: number;
  /** Every step of the plan that was flown, by id. */
  spans: ReadonlyMap<string, StepSpan>;
  contactS: number | null;
  quantity: (name: string) => EstimatedQuantity | null;
  /** The same without what the whole step tells: as handling looks at any stretch. */
  linesQuantity: (name: string) => EstimatedQuantity | null;
}>;

/** The plan's last move, also where a hold ends the plan, as a departure's does; a comparison is about that one. */
export function finalMove(plan: Plan): MoveStep | null {
  return plan.steps.findLast((step) => step.kind === 'move') ?? null;
}

const STEADY_METHOD =
  'Between manoeuvres all positions tell how much it wanders (integrated random walk, fixed-interval smoother).';

/** A quantity by the name that a comparison uses, of motion that is measured or nearly so. */
function measuredQuantity(
  name: string,
  session: SessionMotion,
  sources: readonly CheckedSource[],
): EstimatedQuantity | null {
  if (name !== 'y' && name !== 'z') return quantityByName(name, session, sources);
  const offset = quantityByName('lateral_offset', session, []);
  if (offset === null) return null;
  // Both components have about the scatter of the offset they make.
  return { ...offset, value: name === 'y' ? session.motion.yM : session.motion.zM };
}

/** The same as all positions tell it: lines over a short span would show their noise as motion. */
function steadied(name: string, quantity: EstimatedQuantity, steady: SteadyRates) {
  const told = (value: Float64Array, sd: Float64Array): EstimatedQuantity => {
    return { ...quantity, value, sd, method: `${quantity.method} ${STEADY_METHOD}` };
  };
  if (name === 'closing_rate') return told(steady.closingMps, steady.closingSdMps);
  if (name !== 'axial_closing_rate') return quantity;
  return told(steady.axialClosingMps, steady.axialClosingSdMps);
}

/** The step without what is not known to be of it, at most a quarter at each end, s. */
function surelyInside({ startS, endS, startHalfS, endHalfS }: StepSpan) {
  const mostS = (endS - startS) / 4;
  return { fromS: startS + Math.min(startHalfS, mostS), toS: endS - Math.min(endHalfS, mostS) };
}

/**
 * Quantities by the names that a comparison uses: `y` and `z` are the position's components. Each is
 * estimated once, however often it is asked for.
 *
 * @param step the final step as flown, inside which closing rates are as all positions tell them; `null`: as
 *   lines do everywhere
 */
export function comparedQuantity(
  session: SessionMotion,
  sources: readonly CheckedSource[],
  step: StepSpan | null,
): FinalStep['quantity'] {
  const known = new Map<string, EstimatedQuantity | null>();
  const steady = step === null ? null : steadyRates(session.motion, surelyInside(step));
  return (name) => {
    const found = known.get(name);
    if (found !== undefined) return found;
    const measured = measuredQuantity(name, session, sources);
    const quantity =
      measured === null || steady === null ? measured : steadied(name, measured, steady);
    known.set(name, quantity);
    return quantity;
  };
}

/**
 * Estimates a simulator run as a flight is estimated and finds the plan's last step in it.
 *
 * @param source the run's columns on its own clock
 * @returns the step; the reason where the run has none
 */
export function finalStepOfRun(source: TelemetrySource, plan: Plan): FinalStep | RunLeftOut {
  const name = source.file;
  const placed = placeTelemetry(source, []);
  const checked = checkSource(source, {
    tS: rowsOnSession(placed),
    toSession: placed.toSession,
    corrections: [],
  });
  const [brought = checked] = bringToPorts([checked]);
  const session = estimateSessionMotion([brought], plan);
  if (session === null) return { name, reason: 'it shows neither position nor range' };
  const contact = findContactTime(motionOfPorts(session), plan.contactAxialM, null);
  const { phases } = findPhases(session, plan, lastEdge(session, contact));
  const spans = stepSpans(plan, phases);
  const span = spans.get(finalMove(plan)?.id ?? '');
  if (span === undefined) return { name, reason: 'its final step is not found' };
  return {
    name,
    sha256: source.sha256,
    session,
    startS: span.startS,
    endS: span.endS,
    durationHalfS: Math.hypot(span.startHalfS, span.endHalfS),
    spans,
    contactS: contact?.timeS ?? null,
    quantity: comparedQuantity(session, [brought], span),
    linesQuantity: comparedQuantity(session, [brought], null),
  };
}
