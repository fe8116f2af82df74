/** What is typed into the dialogs of phases and contact, read into the command’s input. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { found, type ReadForm, readNumber, type Typed } from './clock/clock-edit';
import type { EditTarget } from './phase-edit-view';
import { type EntryPlace, readTimeEntry } from './timeline-time-entry';

/** The stretch of session time that may be typed, in any code the session knows. */
export function entryPlace({ session, sources }: Reconstruction): EntryPlace {
  const covered = sources.flatMap(({ coverage }) => (coverage === null ? [] : [coverage]));
  const fromS = Math.min(0, ...covered.map(([from]) => from));
  const toS = Math.max(session.durationS.value ?? 0, ...covered.map(([, to]) => to));
  return {
    session: { fromS, toS },
    zeroTaiNs: session.zeroTaiNs,
    missionZeroTaiNs: session.missionZeroTaiNs ?? null,
  };
}

/** Name of the field in which a target’s time is typed, as the command calls it. */
export function timeField({ kind }: EditTarget): 'toS' | 'atS' {
  return kind === 'move-edge' ? 'toS' : 'atS';
}

/** A correction as the command takes it, or what of the form cannot be read. */
export function readPhaseEdit(typed: Typed, target: EditTarget, place: EntryPlace): ReadForm {
  const { reason = '' } = typed;
  const fields: Record<string, string> = {};
  if (reason.trim() === '') fields.reason = 'A reason is needed.';
  if (target.kind === 'name-run') {
    if (Object.keys(fields).length > 0) return { word: null, fields };
    const step = (typed.step ?? '') === '' ? null : typed.step;
    return { word: { ...target, step, reason }, fields: null };
  }
  const name = timeField(target);
  const entry = readTimeEntry(typed[name] ?? '', place);
  if (!entry.ok) fields[name] = entry.problem;
  const sdText = (typed.sdS ?? '').trim();
  const sdS = sdText === '' ? null : readNumber(sdText);
  const needsSd = target.kind === 'contact';
  if (sdS === null && (sdText !== '' || needsSd)) {
    fields.sdS = `${found(typed.sdS)} Expected seconds, such as 0.5.`;
  }
  const { basis = '' } = typed;
  if (needsSd && basis.trim() === '') fields.basis = 'What it rests on is needed.';
  if (!entry.ok || Object.keys(fields).length > 0) return { word: null, fields };
  const word = { ...target, [name]: entry.tS, sdS, reason };
  return { word: needsSd ? { ...word, basis } : word, fields: null };
}

type Refusal = Readonly<{ code: string; message: string; newer?: unknown }>;

/** What the form sends next: after a conflict that was told, what stands now has been seen. */
export function seenVersion(typed: Typed, { code, newer }: Refusal): Typed {
  const version: unknown =
    code === 'changed-meanwhile' && typeof newer === 'object' && newer !== null
      ? Reflect.get(newer, 'version')
      : null;
  return typeof version === 'number' ? { ...typed, version: String(version) } : typed;
}

/** Why a correction was not kept: somebody else’s came first, or it does not fit. */
export function editRefusal({ code, message, newer }: Refusal): string {
  if (code !== 'changed-meanwhile') return message;
  const who: unknown =
    typeof newer === 'object' && newer !== null ? Reflect.get(newer, 'by') : null;
  const name = typeof who === 'string' ? who : 'Somebody';
  return `${name} corrected phases or contact meanwhile, and nothing of that was overwritten. Yours is not kept yet: look at what stands now, then send it again.`;
}
