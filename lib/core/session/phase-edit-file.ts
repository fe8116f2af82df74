/** Corrections of phases as people.yaml writes them, both ways. */
import type { PeopleFileData } from './people-schema';
import type { PhaseEdit } from './phase-edit';

type EditData = NonNullable<PeopleFileData['phase_corrections']>[number];

/** One entry of people.yaml as a correction. */
export function readPhaseEdit(data: EditData): PhaseEdit {
  const said = { by: data.by ?? null, reason: data.reason ?? null };
  if ('contact_s' in data) {
    return { kind: 'contact', atS: data.contact_s, sdS: data.sd_s, basis: data.basis, ...said };
  }
  if ('edge_s' in data) {
    const [before, after] = data.between;
    const place = { edgeS: data.edge_s, before, after };
    return { kind: 'move-edge', ...place, toS: data.moved_to_s, sdS: data.sd_s ?? null, ...said };
  }
  if ('split_at_s' in data) {
    const { run: motion, split_at_s: atS } = data;
    return { kind: 'split-run', motion, atS, sdS: data.sd_s ?? null, ...said };
  }
  const { run: motion, from_s, to_s, step } = data;
  const [fromS, toS] = [Math.min(from_s, to_s), Math.max(from_s, to_s)];
  return { kind: 'name-run', motion, fromS, toS, step, ...said };
}

/** A correction as an entry of people.yaml that `readPhaseEdit` reads back to the same. */
export function phaseEditData(edit: PhaseEdit): EditData {
  const said = {
    ...(edit.by === null ? {} : { by: edit.by }),
    ...(edit.reason === null ? {} : { reason: edit.reason }),
  };
  const sd = edit.kind === 'name-run' || edit.sdS === null ? {} : { sd_s: edit.sdS };
  switch (edit.kind) {
    case 'move-edge': {
      const between: [typeof edit.before, typeof edit.after] = [edit.before, edit.after];
      return { edge_s: edit.edgeS, between, moved_to_s: edit.toS, ...sd, ...said };
    }
    case 'split-run':
      return { run: edit.motion, split_at_s: edit.atS, ...sd, ...said };
    case 'name-run':
      return { run: edit.motion, from_s: edit.fromS, to_s: edit.toS, step: edit.step, ...said };
    case 'contact':
      return { contact_s: edit.atS, sd_s: edit.sdS, basis: edit.basis, ...said };
  }
}
