'use client';

import type { DraftEdit } from '@/lib/view/plans/edit-draft';
import type { FormNode } from '@/lib/view/plans/schema-form';
import styles from './form-field.module.css';
import { TypedInput } from './typed-input';

type OnEdit = (edit: DraftEdit, group?: string) => void;
type Common = Readonly<{ node: FormNode; onEdit: OnEdit }>;

type PointRowsProps = Common &
  Readonly<{ rows: readonly (readonly string[])[]; heads: readonly string[] }>;

/** Points of a profile, one a row. */
export function PointRows({ node, rows, heads, onEdit }: PointRowsProps) {
  return (
    <fieldset className={styles.points} aria-label={node.label}>
      <div className={styles.point} aria-hidden="true">
        {heads.map((head) => (
          <span key={head} className={styles.hint}>
            {head}
          </span>
        ))}
      </div>
      {rows.map((row, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a point is its place in the profile
        <div key={index} className={styles.point}>
          {heads.map((head, column) => (
            <TypedInput
              key={head}
              label={`${node.label}, point ${index + 1}, ${head}`}
              value={row[column] ?? ''}
              of="number"
              path={[...node.path, index, column]}
              isWrong={false}
              onEdit={onEdit}
            />
          ))}
          <button
            type="button"
            className={styles.link}
            aria-label={`Remove point ${index + 1}`}
            disabled={rows.length === 1}
            onClick={() => onEdit({ op: 'remove', path: [...node.path, index] })}
          >
            remove
          </button>
        </div>
      ))}
      <button
        type="button"
        className={styles.link}
        onClick={() =>
          onEdit({ op: 'insert', path: node.path, index: rows.length, value: [null, null] })
        }
      >
        Add a point
      </button>
    </fieldset>
  );
}

type NumberRowProps = Common &
  Readonly<{ id: string; values: readonly string[]; heads: readonly string[] }>;

/** Two or three numbers that belong together. */
export function NumberRow({ node, values, heads, id, onEdit }: NumberRowProps) {
  return (
    <div className={styles.pair}>
      {values.map((value, index) => (
        <TypedInput
          key={heads[index]}
          {...(index === 0 ? { id } : {})}
          label={`${node.label}, ${heads[index]}`}
          value={value}
          of="number"
          path={[...node.path, index]}
          isWrong={node.problem !== null}
          onEdit={onEdit}
        />
      ))}
    </div>
  );
}

type ListRowsProps = Common & Readonly<{ items: readonly string[]; of: 'text' | 'number' }>;

/** Words or numbers, one a row. */
export function ListRows({ node, items, of, onEdit }: ListRowsProps) {
  return (
    <fieldset className={styles.points} aria-label={node.label}>
      {items.map((item, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: an item is its place in the list
        <div key={index} className={styles.point}>
          <TypedInput
            label={`${node.label}, ${index + 1}`}
            value={item}
            of={of}
            path={[...node.path, index]}
            isWrong={false}
            onEdit={onEdit}
          />
          <button
            type="button"
            className={styles.link}
            aria-label={`Remove ${index + 1}`}
            disabled={items.length === 1}
            onClick={() => onEdit({ op: 'remove', path: [...node.path, index] })}
          >
            remove
          </button>
        </div>
      ))}
      <button
        type="button"
        className={styles.link}
        onClick={() =>
          onEdit({
            op: 'insert',
            path: node.path,
            index: items.length,
            value: of === 'number' ? null : '',
          })
        }
      >
        Add one
      </button>
    </fieldset>
  );
}
