/** What one version of a plan file or a rule file says otherwise than another, field by field. */
import type { VersionedKind } from './file-identity';
import { valueAt } from './schema-walk';
import { formatKeyPath, type KeyPath, readYaml } from './yaml-text';

/** One field by its key path inside its rule, step or head; undefined where one side has none. */
export type FieldChange = Readonly<{ key: string; before: unknown; after: unknown }>;

/**
 * A rule or step by its id. `moved`: the same words, at another place among those both files have;
 * an altered one may have moved as well.
 */
export type ItemChange = Readonly<{
  id: string;
  change: 'added' | 'removed' | 'altered' | 'moved';
  fields: readonly FieldChange[];
}>;

/** `head`: fields outside the list. `items`: in the order of the newer file, then what it dropped. */
export type VersionComparison = Readonly<{
  head: readonly FieldChange[];
  items: readonly ItemChange[];
  sameCount: number;
}>;

const LISTS: Readonly<Record<VersionedKind, KeyPath>> = {
  plan: ['plan', 'steps'],
  rules: ['rules'],
  template: ['sections'],
};

/** Where the rules, or the steps, stand in a file. */
export function listPath(kind: VersionedKind): KeyPath {
  return LISTS[kind];
}

function isMapping(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A profile or a pair reads as one value; a list of mappings does not. */
function isLeaf(value: unknown): boolean {
  if (Array.isArray(value)) return value.every((item) => !isMapping(item));
  return !isMapping(value);
}

function leaves(value: unknown, path: KeyPath, found: Map<string, unknown>): void {
  if (isLeaf(value)) {
    found.set(formatKeyPath(path), value);
  } else if (Array.isArray(value)) {
    value.forEach((item, index) => {
      leaves(item, [...path, index], found);
    });
  } else if (isMapping(value)) {
    for (const [key, inner] of Object.entries(value)) leaves(inner, [...path, key], found);
  }
}

function fieldChanges(before: unknown, after: unknown): readonly FieldChange[] {
  const [older, newer] = [new Map<string, unknown>(), new Map<string, unknown>()];
  leaves(before, [], older);
  leaves(after, [], newer);
  return [...new Set([...newer.keys(), ...older.keys()])]
    .map((key) => ({ key, before: older.get(key), after: newer.get(key) }))
    .filter((change) => JSON.stringify(change.before) !== JSON.stringify(change.after));
}

type Items = ReadonlyMap<string, unknown>;

function itemsOf(data: unknown, path: KeyPath): Items {
  const list = valueAt(data, path);
  const items: readonly unknown[] = Array.isArray(list) ? list : [];
  return new Map(
    items.map((item, index) => {
      const id = valueAt(item, ['id']);
      return [typeof id === 'string' ? id : `#${index + 1}`, item] as const;
    }),
  );
}

/**
 * Ids that keep their order among one another, as many as can be: a longest increasing subsequence.
 *
 * @param places place in the older list of each id, in the newer order
 */
function inOrder(places: readonly number[]): ReadonlySet<number> {
  const tails: number[] = [];
  const before: number[] = [];
  places.forEach((place, at) => {
    const found = tails.findIndex((tail) => (places[tail] ?? 0) >= place);
    const length = found === -1 ? tails.length : found;
    before[at] = tails[length - 1] ?? -1;
    tails[length] = at;
  });
  const kept = new Set<number>();
  for (let at = tails.at(-1) ?? -1; at >= 0; at = before[at] ?? -1) kept.add(at);
  return kept;
}

function itemChanges(before: Items, after: Items): readonly ItemChange[] {
  const olderPlace = new Map([...before.keys()].map((id, place) => [id, place]));
  const common = [...after.keys()].filter((id) => before.has(id));
  const ordered = inOrder(common.map((id) => olderPlace.get(id) ?? 0));
  const moved = new Set(common.filter((_id, at) => !ordered.has(at)));
  const changed = [...after].flatMap(([id, item]): ItemChange[] => {
    if (!before.has(id)) return [{ id, change: 'added', fields: fieldChanges({}, item) }];
    const fields = fieldChanges(before.get(id), item);
    if (fields.length > 0) return [{ id, change: 'altered', fields }];
    return moved.has(id) ? [{ id, change: 'moved', fields }] : [];
  });
  const removed = [...before].flatMap(([id, item]): ItemChange[] =>
    after.has(id) ? [] : [{ id, change: 'removed', fields: fieldChanges(item, {}) }],
  );
  return [...changed, ...removed];
}

function withoutList(data: unknown, path: KeyPath): unknown {
  const [head, ...rest] = path;
  if (head === undefined || !isMapping(data)) return undefined;
  const inner = withoutList(data[head], rest);
  const others = Object.entries(data).filter(([key]) => key !== head);
  return Object.fromEntries([...others, ...(inner === undefined ? [] : [[head, inner]])]);
}

/**
 * Compares two files of one kind. Rules and steps are matched by id, whatever their order.
 *
 * @param before text of the older file; one that cannot be read counts as empty
 * @param after text of the newer file
 * @returns values as written, in the units of their keys
 */
export function compareVersions(
  kind: VersionedKind,
  before: string,
  after: string,
): VersionComparison {
  const [older, newer] = [before, after].map((text) => readYaml(text, kind).value?.data);
  const path = listPath(kind);
  const [olderItems, newerItems] = [itemsOf(older, path), itemsOf(newer, path)];
  const items = itemChanges(olderItems, newerItems);
  const touched = items.filter(({ change }) => change !== 'removed').length;
  return {
    head: fieldChanges(withoutList(older, path) ?? {}, withoutList(newer, path) ?? {}),
    items,
    sameCount: newerItems.size - touched,
  };
}
