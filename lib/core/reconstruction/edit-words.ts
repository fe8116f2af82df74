/** People's corrections of phases in sentences, the computed value beside the person's. */
import type { Figure } from '../figure';
import { NORMAL_95 } from '../math/statistics';
import type { RunEdge } from '../phases/edited-run';
import { nameFromId } from '../session/name-from-id';
import type { DeclaredContact, PhaseEdit, RunEdit } from '../session/phase-edit';
import { sessionTimeText } from '../time/session-time-text';
import { decimalsFor, formatNumber } from '../units/number-text';
import { figureOf } from './figure-of';
import { MOTION_WORDS } from './kind-words';

const NOBODY = 'a person who is not named';

/** `00:12:05.4 ± 0.8 s`; without a half-width where none is known. */
export function instantText(atS: number, halfS: number | null): string {
  if (halfS === null || Number.isNaN(halfS)) return sessionTimeText(atS, 1);
  const decimals = decimalsFor(halfS, 1);
  return `${sessionTimeText(atS, decimals)} ± ${formatNumber(halfS, decimals)} s`;
}

/** A method as a sentence about something: `Start of To 30, set by Ada: ...`. */
export function about(what: string, method: string): string {
  return `${what}, ${method.charAt(0).toLowerCase()}${method.slice(1)}`;
}

/** Who set it and why: `Set by Ada: braking began there.` */
function setBy({ by, reason }: PhaseEdit): string {
  const who = `Set by ${by ?? NOBODY}`;
  if (reason === null) return `${who}.`;
  return `${who}: ${/[.!?]$/.test(reason) ? reason : `${reason}.`}`;
}

/** The method of an edge that a person set. */
export function edgeMethod(edit: RunEdit, { computed }: RunEdge): string {
  const was =
    computed === null
      ? 'No edge was computed here.'
      : `Computed was ${instantText(computed.atS, computed.halfS)}.`;
  return `${setBy(edit)} ${was}`;
}

/** The method of an instant of contact that a person declared. */
export function contactMethod(
  edit: DeclaredContact,
  computed: Readonly<{ timeS: number; halfS: number | null }> | null,
): string {
  const was =
    computed === null
      ? 'None was computed.'
      : `Computed was ${instantText(computed.timeS, computed.halfS)}.`;
  return `${setBy(edit)} Basis: ${edit.basis}${/[.!?]$/.test(edit.basis) ? '' : '.'} ${was}`;
}

/** What figures behind a run say of the person who gave it to its step. */
export function namingSentence(edit: RunEdit, computedStep: string | null): string {
  const step = edit.kind === 'name-run' ? edit.step : null;
  const given = step === null ? 'Taken from the plan’s steps' : `Given to ${nameFromId(step)}`;
  const was =
    computedStep === null ? 'matched to no step' : `matched to ${nameFromId(computedStep)}`;
  return `${given}. ${setBy(edit)} It was ${was}.`;
}

/** Why an instant that a person set has no interval; null where it has one. */
function noIntervalReason(edit: PhaseEdit): string | null {
  if (edit.kind === 'name-run' || edit.sdS !== null) return null;
  const who = edit.by ?? NOBODY;
  return `${who.charAt(0).toUpperCase()}${who.slice(1)} stated no uncertainty.`;
}

/** Half-width of the 95 % interval that a person stated, s; null where none is. */
function statedHalfS(edit: PhaseEdit): number | null {
  return edit.kind === 'name-run' || edit.sdS === null ? null : NORMAL_95 * edit.sdS;
}

/**
 * An instant as a person set it: no data stand behind it, and its interval is the stated part alone.
 *
 * @param method how it was set, and what was computed
 */
export function saidFigure(edit: PhaseEdit, atS: number, method: string): Figure {
  const reason = noIntervalReason(edit);
  return figureOf(
    { sources: [], channels: [], people: [method] },
    {
      value: atS,
      unit: 's',
      random: null,
      systematic: statedHalfS(edit),
      method,
      fromS: atS,
      toS: atS,
      ...(reason === null ? {} : { reason }),
    },
  );
}

/** What a correction is about, as it was said. */
export function editSubject(edit: PhaseEdit): string {
  switch (edit.kind) {
    case 'move-edge':
      return `Edge from ${MOTION_WORDS[edit.before]} to ${MOTION_WORDS[edit.after]} at ${sessionTimeText(edit.edgeS, 1)}`;
    case 'split-run':
      return `Split of the ${MOTION_WORDS[edit.motion]}`;
    case 'name-run':
      return `Step of the ${MOTION_WORDS[edit.motion]} from ${sessionTimeText(edit.fromS, 1)} to ${sessionTimeText(edit.toS, 1)}`;
    case 'contact':
      return 'Contact';
  }
}
