/** Which figures differ between two reconstructions of one session, and by how much. */
import { type Figure, halfWidth95 } from '../figure';
import { listFigures } from './list-figures';
import type { Reconstruction } from './reconstruction';

/**
 * One figure under its key in the newer reconstruction. `before` or `after` is null where only one
 * of the two has it; `halfWidths` is the size of the difference in half-widths (95 %) of the one
 * before, null where that is not known.
 */
export type FigureChange = Readonly<{
  key: string;
  before: Figure | null;
  after: Figure | null;
  difference: number | null;
  halfWidths: number | null;
}>;

/** A phase is the same one when step and motion agree, and which such phase in a row it is. */
function phaseNames({ phases }: Reconstruction): readonly string[] {
  const counts = new Map<string, number>();
  return phases.map(({ step, motion }) => {
    const kind = `${step ?? 'no step'}, ${motion}`;
    const count = counts.get(kind) ?? 0;
    counts.set(kind, count + 1);
    return `${kind}, ${count}`;
  });
}

const PHASE = /^phases\[(\d+)\]/;

/** The key that a figure of the newer reconstruction has in the older; null for a new phase. */
function olderKey(key: string, before: readonly string[], after: readonly string[]): string | null {
  const index = PHASE.exec(key)?.[1];
  if (index === undefined) return key;
  const older = before.indexOf(after[Number(index)] ?? '');
  return older < 0 ? null : key.replace(PHASE, `phases[${older}]`);
}

/**
 * The newer figures under the keys of an older reconstruction, so that what quotes a phase by its
 * place is held against the same phase wherever it stands now.
 *
 * @param figures figures of the newer reconstruction by their keys there
 * @param before the older reconstruction
 * @param after the newer one, of the same session
 * @returns by the older keys; figures of phases that the older one has not are left out
 */
export function underOlderKeys(
  figures: ReadonlyMap<string, Figure>,
  before: Reconstruction,
  after: Reconstruction,
): ReadonlyMap<string, Figure> {
  const [older, newer] = [phaseNames(before), phaseNames(after)];
  const renamed = new Map<string, Figure>();
  for (const [key, figure] of figures) {
    const from = olderKey(key, older, newer);
    if (from !== null) renamed.set(from, figure);
  }
  return renamed;
}

function changeOf(key: string, before: Figure | null, after: Figure | null): FigureChange {
  const [from, to] = [before?.value ?? null, after?.value ?? null];
  const difference = from === null || to === null ? null : to - from;
  const width = before === null ? null : halfWidth95(before);
  const known = width !== null && width > 0 && difference !== null;
  return {
    key,
    before,
    after,
    difference,
    halfWidths: known ? Math.abs(difference) / width : null,
  };
}

function isSame({ before, after }: FigureChange): boolean {
  const [from, to] = [before?.value ?? null, after?.value ?? null];
  if (from === null || to === null) return from === to && (before === null) === (after === null);
  return from === to && before?.unit === after?.unit;
}

/**
 * Compares two reconstructions figure by figure.
 *
 * Steps, rules and sources are matched by id, phases by step, motion and their order, exceedances
 * and callouts by their place.
 *
 * @param before the older reconstruction
 * @param after the newer one, of the same session
 * @returns what differs at all, in the order of the newer one; then what only the older one has
 */
export function changedFigures(
  before: Reconstruction,
  after: Reconstruction,
): readonly FigureChange[] {
  const [older, newer] = [listFigures(before), listFigures(after)];
  const [olderPhases, newerPhases] = [phaseNames(before), phaseNames(after)];
  const seen = new Set<string>();
  const changes = [...newer].map(([key, figure]) => {
    const from = olderKey(key, olderPhases, newerPhases);
    if (from !== null) seen.add(from);
    return changeOf(key, from === null ? null : (older.get(from) ?? null), figure);
  });
  const gone = [...older]
    .filter(([key]) => !seen.has(key))
    .map(([key, f]) => changeOf(key, f, null));
  return [...changes.filter((change) => !isSame(change)), ...gone];
}
