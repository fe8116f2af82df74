'use client';

import { useState } from 'react';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { type DraftItem, listPathOf, type NewItem } from '@/lib/view/plans/draft-view';
import { ITEM_WORDS } from '@/lib/view/plans/register-view';
import type { OnEdit } from './form-field';
import styles from './item-list.module.css';

type ItemListProps = Readonly<{
  kind: VersionedKind;
  items: readonly DraftItem[];
  additions: readonly NewItem[];
  /** Place of the one that is open; null for the file itself. */
  open: number | null;
  headProblem: boolean;
  onOpen: (index: number | null) => void;
  onEdit: OnEdit;
}>;

/** What was removed last; said as long as so many are left, so that an undo unsays it. */
type Removed = Readonly<{ name: string; left: number }>;

/** Rules, steps or sections in their order: open one, move it, remove it, add one. */
export function ItemList(props: ItemListProps) {
  const { kind, items, additions, open, headProblem, onOpen, onEdit } = props;
  const path = listPathOf(kind);
  const word = ITEM_WORDS[kind];
  const [removed, setRemoved] = useState<Removed | null>(null);

  function move(from: number, to: number): void {
    if (to < 0 || to >= items.length) return;
    setRemoved(null);
    onEdit({ op: 'move', path, from, to });
    onOpen(to);
  }
  function add(index: number): void {
    const item = additions[index];
    if (item === undefined) return;
    setRemoved(null);
    onEdit({ op: 'insert', path, index: items.length, value: item.value });
    onOpen(items.length);
  }
  function remove({ index, name }: DraftItem): void {
    setRemoved({ name, left: items.length - 1 });
    onEdit({ op: 'remove', path: [...path, index] });
    onOpen(items.length === 1 ? null : Math.min(index, items.length - 2));
  }

  return (
    <div className={styles.list}>
      <ol className="plain">
        <li className={open === null ? styles.open : styles.item}>
          <button
            type="button"
            className={styles.name}
            aria-current={open === null ? 'true' : undefined}
            onClick={() => onOpen(null)}
          >
            {kind === 'plan' ? 'The plan itself' : 'Title and id'}
            {headProblem && <span className="beyond"> to mend</span>}
          </button>
        </li>
        {items.map((item) => (
          <li key={item.index} className={open === item.index ? styles.open : styles.item}>
            <button
              type="button"
              className={styles.name}
              aria-current={open === item.index ? 'true' : undefined}
              title="Alt and arrow keys move it"
              onClick={() => onOpen(item.index)}
              onKeyDown={(event) => {
                if (!event.altKey) return;
                if (event.key === 'ArrowUp') move(item.index, item.index - 1);
                if (event.key === 'ArrowDown') move(item.index, item.index + 1);
              }}
            >
              {item.name}
              {item.problemCount > 0 && <span className="beyond"> to mend</span>}
              <span className={styles.summary}>{item.summary}</span>
            </button>
            {open === item.index && (
              <span className={styles.moves}>
                <button type="button" onClick={() => move(item.index, item.index - 1)}>
                  Up
                </button>
                <button type="button" onClick={() => move(item.index, item.index + 1)}>
                  Down
                </button>
                <button type="button" onClick={() => remove(item)}>
                  Remove
                </button>
              </span>
            )}
          </li>
        ))}
      </ol>
      <p role="status" className="soft">
        {removed !== null && removed.left === items.length
          ? `${removed.name} is taken out of the draft; Undo brings it back.`
          : ''}
      </p>
      <select
        aria-label={`Add a ${word}`}
        className={styles.add}
        value=""
        onChange={({ target }) => add(Number(target.value))}
      >
        <option value="" disabled>
          Add a {word}…
        </option>
        {additions.map(({ label }, index) => (
          <option key={label} value={index}>
            {label}
          </option>
        ))}
      </select>
    </div>
  );
}
