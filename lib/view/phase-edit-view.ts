/** What people may correct of phases and contact, and what they did, as the screens show it. */
import type { Figure } from '../core/figure';
import { editSubject } from '../core/reconstruction/edit-words';
import { MOTION_WORDS } from '../core/reconstruction/kind-words';
import type { PhaseEditResult } from '../core/reconstruction/phase-edits';
import type { Phase, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { nameFromId } from '../core/session/name-from-id';
import type { EditedMotion, PhaseEdit } from '../core/session/phase-edit';
import { wordsKey } from '../core/session/words-key';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';
import { formatFigure } from './format-figure';
import { formatSessionTime } from './format-time';
import { fieldTime } from './timeline-readout';

/** What a correction is about, as the command takes it; what is typed is added to it. */
export type EditTarget =
  | Readonly<{ kind: 'move-edge'; edgeS: number; before: EditedMotion; after: EditedMotion }>
  | Readonly<{ kind: 'split-run'; motion: EditedMotion }>
  | Readonly<{ kind: 'name-run'; motion: EditedMotion; fromS: number; toS: number }>
  | Readonly<{ kind: 'contact' }>;

/** One thing that may be corrected: what its dialog says, and what stands in its field at first. */
export type EditOffer = Readonly<{
  target: EditTarget;
  title: string;
  /** How it stands now, in a sentence. */
  now: string;
  /** The time as it is typed, or the step’s id; empty where nothing stands. */
  value: string;
}>;

/** What may be corrected of one run; `move` is null for the first one, which starts with the data. */
export type RunOffers = Readonly<{ move: EditOffer | null; split: EditOffer; name: EditOffer }>;

const time = (figure: Figure): string => formatFigure(figure, { form: 'time' }).text;

function moveOffer(
  before: Phase,
  phase: Phase,
  names: readonly [string, string],
): EditOffer | null {
  const { startS, startSet } = phase;
  const edgeS = startSet?.keyS ?? startS.value;
  if (edgeS === null || startS.value === null) return null;
  return {
    target: { kind: 'move-edge', edgeS, before: before.motion, after: phase.motion },
    title: `Move the edge from ${names[0]} to ${names[1]}`,
    now: `It lies at ${time(startS)}${startSet === undefined ? '' : ', set by hand'}.`,
    value: fieldTime(startS.value),
  };
}

/** What may be corrected of each phase, in their order. */
export function runOffers(reconstruction: Reconstruction): readonly RunOffers[] {
  const { phases } = reconstruction;
  const nameOf = (index: number) => nameOfRun(reconstruction, index);
  return phases.map((phase, index): RunOffers => {
    const before = phases[index - 1];
    const name = nameOf(index);
    const { motion } = phase;
    const [fromS, toS] = [phase.startS.value ?? 0, phase.endS.value ?? 0];
    const lasts = `It lasts from ${time(phase.startS)} to ${time(phase.endS)}`;
    return {
      move: before === undefined ? null : moveOffer(before, phase, [nameOf(index - 1), name]),
      split: {
        target: { kind: 'split-run', motion },
        title: `Split ${name}`,
        now: `${lasts}; both parts stay with its step until they are named.`,
        value: '',
      },
      name: {
        target: { kind: 'name-run', motion, fromS, toS },
        title: `Name ${name}`,
        now: `${lasts} and its motion is ${MOTION_WORDS[motion]}.`,
        value: phase.step ?? '',
      },
    };
  });
}

/** What stands for contact in its dialog. */
export function contactOffer({ contact }: Reconstruction): EditOffer {
  const atS = contact?.timeS.value ?? null;
  return {
    target: { kind: 'contact' },
    title: 'Declare contact',
    now:
      contact === null
        ? 'No contact was found.'
        : `Contact stands at ${time(contact.timeS)}${contact.set === undefined ? '' : ', declared by hand'}.`,
    value: atS === null ? '' : fieldTime(atS),
  };
}

/** The steps that a run may be given to. */
export function stepChoices({ plan }: Reconstruction) {
  const steps = (plan?.steps ?? []).map(({ id }) => ({ value: id, text: nameFromId(id) }));
  return [{ value: '', text: 'no step of the plan' }, ...steps];
}

const by = (name: string | null): string => (name === null ? 'by hand' : `by ${name}`);

/** What stands under the start of a phase that a person set; null where nobody did. */
export function startNote({ startSet }: Pick<Phase, 'startSet'>): string | null {
  if (startSet === undefined) return null;
  const { computedS } = startSet;
  return computedS === null
    ? `split here ${by(startSet.by)}`
    : `set ${by(startSet.by)}; computed ${time(computedS)}`;
}

/** What stands under the name of a phase that a person gave to its step; null where nobody did. */
export function stepNote({ stepSet }: Pick<Phase, 'stepSet'>): string | null {
  if (stepSet === undefined) return null;
  const { computedStep } = stepSet;
  const was = computedStep === null ? 'no step' : nameFromId(computedStep);
  return `named ${by(stepSet.by)}; matched to ${was}`;
}

/** A correction with what was computed, on one line. */
function whatText(edit: PhaseEdit, result: PhaseEditResult | undefined): string {
  const what = result?.what ?? editSubject(edit);
  const computedS = result?.computedS ?? null;
  const was = computedS === null ? '' : `; computed ${time(computedS)}`;
  const setS = result?.setS ?? null;
  const at = (atS: number) => (setS === null ? formatSessionTime(atS) : time(setS));
  switch (edit.kind) {
    case 'move-edge':
      return `${what}: moved to ${at(edit.toS)}${was}`;
    case 'split-run':
      return `${what}: at ${at(edit.atS)}`;
    case 'name-run': {
      // One that found no run tells of no step that it was matched to.
      const found = result !== undefined && result.outcome.fault === null;
      const matched = found ? `; matched to ${stepName(result.computedStep)}` : '';
      return `${what}: ${stepName(edit.step)}${matched}`;
    }
    case 'contact':
      return `${what}: declared at ${at(edit.atS)}${was}. Basis: ${edit.basis}`;
  }
}

function stepName(step: string | null): string {
  return step === null ? 'no step' : nameFromId(step);
}

function withFault(row: CorrectionRow, result: PhaseEditResult | undefined): CorrectionRow {
  const fault = row.undone === null ? (result?.outcome.fault ?? null) : null;
  return fault === null ? row : { ...row, fault: `Not applied: ${fault}.` };
}

/**
 * All corrections of phases: those that came with the folder, then those made here, the undone ones
 * too; each with what became of it.
 */
export function phaseEditRows(
  { phaseEdits }: Reconstruction,
  allKept: readonly KeptWord<PhaseEdit>[],
  only: 'all' | 'contact' = 'all',
): readonly CorrectionRow[] {
  const isShown = ({ kind }: PhaseEdit) => only === 'all' || kind === 'contact';
  const kept = allKept.filter(({ correction }) => isShown(correction));
  const results = new Map(phaseEdits?.results.map((each) => [wordsKey(each.edit), each]));
  return kept.map((one) => {
    const result = results.get(wordsKey(one.correction));
    return withFault(keptRow(one, whatText(one.correction, result)), result);
  });
}

/** What a form of a correction has seen: the sum of the versions of all of them. */
export function editsVersion(kept: readonly Readonly<{ version: number }>[]): number {
  return kept.reduce((sum, { version }) => sum + version, 0);
}
