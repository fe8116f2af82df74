/** Two versions side by side: rules or steps, and the fields that differ. */
import {
  compareVersions,
  type FieldChange,
  type ItemChange,
} from '../../core/session/compare-versions';
import type { VersionedKind } from '../../core/session/file-identity';
import { nameFromId } from '../../core/session/name-from-id';
import { plural } from '../format-number';
import { fieldWords } from './form-words';
import { ITEM_WORDS } from './register-view';

export type FieldRow = Readonly<{ key: string; field: string; before: string; after: string }>;

export type ItemBlock = Readonly<{
  key: string;
  name: string;
  change: string;
  fields: readonly FieldRow[];
}>;

export type CompareView = Readonly<{
  summary: string;
  head: readonly FieldRow[];
  items: readonly ItemBlock[];
}>;

const CHANGE_WORDS: Readonly<Record<ItemChange['change'], string>> = {
  added: 'added',
  removed: 'removed',
  altered: 'altered',
  moved: 'moved to another place',
};

function partOf(part: string): string {
  const index = /^\[(\d+)\]$/.exec(part)?.[1];
  const words =
    index === undefined
      ? fieldWords(part)
      : { label: Number(index) === 0 ? 'low' : 'high', unit: '' };
  return words.unit === '' ? words.label : `${words.label} (${words.unit})`;
}

/** `within.range_m` as `Where it applies, Range (m)`. */
function fieldName(key: string): string {
  return key
    .replaceAll('[', '.[')
    .split('.')
    .filter((part) => part !== '')
    .map((part, at) => {
      const words = partOf(part);
      return at === 0 ? words : `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
    })
    .join(', ');
}

/** A value as written; profiles point by point. */
export function valueText(value: unknown): string {
  if (value === undefined) return 'not given';
  if (value === null) return 'none';
  if (Array.isArray(value)) {
    return value
      .map((item) => (Array.isArray(item) ? `[${item.join(', ')}]` : valueText(item)))
      .join(', ');
  }
  return String(value);
}

function fieldRow({ key, before, after }: FieldChange): FieldRow {
  return { key, field: fieldName(key), before: valueText(before), after: valueText(after) };
}

export function compareView(kind: VersionedKind, before: string, after: string): CompareView {
  const { head, items, sameCount } = compareVersions(kind, before, after);
  const word = ITEM_WORDS[kind];
  const counts = (Object.keys(CHANGE_WORDS) as ItemChange['change'][]).flatMap((change) => {
    const count = items.filter((item) => item.change === change).length;
    return count === 0 ? [] : [`${plural(count, word)} ${CHANGE_WORDS[change]}`];
  });
  const rest = `${plural(sameCount, word)} the same`;
  return {
    summary: [...counts, rest].join(', '),
    head: head.map(fieldRow),
    items: items.map(({ id, change, fields }) => ({
      key: id,
      name: nameFromId(id),
      change: CHANGE_WORDS[change],
      fields: fields.map(fieldRow),
    })),
  };
}
