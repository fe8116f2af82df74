/** Which figures differ between two reconstructions of one session, and by how much. */
import { type Figure, halfWidth95 } from '../figure';
import { listFigures } from './list-figures';
import { matchPlaces, PLACE_KINDS, type PlaceKind, type PlaceMatch } from './match-places';
import type { Reconstruction, Verdict } from './reconstruction';

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

/** A rule that is judged otherwise; null where only one of the two has it. */
export type VerdictChange = Readonly<{
  rule: string;
  before: Verdict | null;
  after: Verdict | null;
}>;

/** A phase, exceedance, callout, event or fault by its place in its reconstruction. */
export type Place = Readonly<{ kind: PlaceKind; index: number }>;

/**
 * What differs between two reconstructions. `figures`: of what both have, and of what has no place
 * (steps, rules, sources, contact). `appeared` by the newer's places, `gone` by the older's.
 */
export type Changes = Readonly<{
  verdicts: readonly VerdictChange[];
  figures: readonly FigureChange[];
  appeared: readonly Place[];
  gone: readonly Place[];
}>;

const PLACED = new RegExp(`^(${PLACE_KINDS.join('|')})\\[(\\d+)\\]`);

/** The key that a figure of the newer reconstruction has in the older; null for what is new. */
function olderKey(key: string, match: PlaceMatch): string | null {
  const [at, kind, index] = PLACED.exec(key) ?? [];
  if (at === undefined) return key;
  const older = match[kind as PlaceKind][Number(index)] ?? null;
  return older === null ? null : `${kind}[${older}]${key.slice(at.length)}`;
}

/**
 * The newer figures under the keys of an older reconstruction, so that what quotes a phase or an
 * exceedance by its place is held against the same one wherever it stands now.
 *
 * @param figures figures of the newer reconstruction by their keys there
 * @param before the older reconstruction
 * @param after the newer one, of the same session
 * @returns by the older keys; figures of what the older one has not are left out
 */
export function underOlderKeys(
  figures: ReadonlyMap<string, Figure>,
  before: Reconstruction,
  after: Reconstruction,
): ReadonlyMap<string, Figure> {
  const match = matchPlaces(before, after);
  const renamed = new Map<string, Figure>();
  for (const [key, figure] of figures) {
    const from = olderKey(key, match);
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

/** Places of the newer that no older one answers to, and the other way round. */
function comings(
  match: PlaceMatch,
  before: Reconstruction,
): Readonly<{ appeared: readonly Place[]; gone: readonly Place[] }> {
  const counts: Readonly<Record<PlaceKind, number>> = {
    phases: before.phases.length,
    exceedances: before.exceedances.length,
    callouts: before.callouts.length,
    data_quality: before.dataQuality.length,
    events: before.events.length,
  };
  const appeared = PLACE_KINDS.flatMap((kind) =>
    match[kind].flatMap((older, index) => (older === null ? [{ kind, index }] : [])),
  );
  const gone = PLACE_KINDS.flatMap((kind) => {
    const kept = new Set(match[kind]);
    const all = Array.from({ length: counts[kind] }, (_, index) => ({ kind, index }));
    return all.filter(({ index }) => !kept.has(index));
  });
  return { appeared, gone };
}

/** In the order of the newer rule set, then rules that only the older one has. */
function changedVerdicts(before: Reconstruction, after: Reconstruction): readonly VerdictChange[] {
  const verdictIn = ({ rules }: Reconstruction, rule: string): Verdict | null =>
    rules.find(({ id }) => id === rule)?.verdict ?? null;
  const ids = new Set([...after.rules, ...before.rules].map(({ id }) => id));
  return [...ids]
    .map((rule) => ({ rule, before: verdictIn(before, rule), after: verdictIn(after, rule) }))
    .filter((change) => change.before !== change.after);
}

/**
 * Compares two reconstructions figure by figure.
 *
 * Steps, rules and sources are matched by id; what is listed by place as `matchPlaces` says.
 *
 * @param before the older reconstruction
 * @param after the newer one, of the same session
 * @returns figures that differ at all, in the order of the newer one, then what only the older one
 *   has; what appeared and what is gone is named as a whole and its figures are not listed
 */
export function findChanges(before: Reconstruction, after: Reconstruction): Changes {
  const [older, newer] = [listFigures(before), listFigures(after)];
  const match = matchPlaces(before, after);
  const { appeared, gone } = comings(match, before);
  const goneAt = new Set(gone.map(({ kind, index }) => `${kind}[${index}]`));
  const seen = new Set<string>();
  const changes = [...newer].flatMap(([key, figure]): FigureChange[] => {
    const from = olderKey(key, match);
    if (from === null) return [];
    seen.add(from);
    return [changeOf(key, older.get(from) ?? null, figure)];
  });
  const lost = [...older].filter(
    ([key]) => !seen.has(key) && !goneAt.has(PLACED.exec(key)?.[0] ?? ''),
  );
  const figures = [
    ...changes.filter((change) => !isSame(change)),
    ...lost.map(([key, figure]) => changeOf(key, figure, null)),
  ];
  return { verdicts: changedVerdicts(before, after), figures, appeared, gone };
}
