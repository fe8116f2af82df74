'use client';

import { useId } from 'react';
import field from '@/app/_components/form/field.module.css';
import type { DraftEdit } from '@/lib/view/plans/edit-draft';
import type { FormNode } from '@/lib/view/plans/schema-form';
import styles from './form-field.module.css';
import { ListRows, NumberRow, PointRows } from './point-rows';
import { TypedInput } from './typed-input';

export type OnEdit = (edit: DraftEdit, group?: string) => void;

type FormFieldProps = Readonly<{ node: FormNode; onEdit: OnEdit }>;

/** One field of the form, with what it holds. */
export function FormField({ node, onEdit }: FormFieldProps) {
  if (node.control === 'absent')
    return <AbsentField node={node} blank={node.blank} {...{ onEdit }} />;
  if (node.control === 'group') {
    return (
      <Boxed node={node} onEdit={onEdit}>
        {node.nodes.map((inner) => (
          <FormField key={inner.id} node={inner} onEdit={onEdit} />
        ))}
        {node.addition !== undefined && (
          <AddItem node={node} index={node.nodes.length} value={node.addition} {...{ onEdit }} />
        )}
      </Boxed>
    );
  }
  if (node.control === 'variant') {
    return (
      <Boxed node={node} onEdit={onEdit}>
        <VariantChoice node={node} chosen={node.chosen} options={node.options} onEdit={onEdit} />
        {node.inner !== null && <InnerFields node={node.inner} onEdit={onEdit} />}
      </Boxed>
    );
  }
  return <PlainField node={node} onEdit={onEdit} />;
}

/** The fields of what is open as a whole, without a box. */
export function BareFields({ node, onEdit }: FormFieldProps) {
  return (
    <div className={styles.fields}>
      <InnerFields node={node} onEdit={onEdit} />
    </div>
  );
}

/** Fields of the chosen form, without a box of their own. */
function InnerFields({ node, onEdit }: FormFieldProps) {
  if (node.control !== 'group') return <PlainField node={node} onEdit={onEdit} isInner />;
  return node.nodes.map((inner) => <FormField key={inner.id} node={inner} onEdit={onEdit} />);
}

type VariantChoiceProps = FormFieldProps &
  Readonly<{ chosen: number; options: readonly Readonly<{ label: string; value: unknown }>[] }>;

/** Which of several forms it has; what both know is carried over. */
function VariantChoice({ node, chosen, options, onEdit }: VariantChoiceProps) {
  const id = useId();
  return (
    <div className={`${field.field} ${styles.wide}`}>
      <label htmlFor={id}>Kind</label>
      <select
        id={id}
        className={field.input}
        value={chosen}
        onChange={({ target }) => {
          const option = options[Number(target.value)];
          if (option !== undefined) onEdit({ op: 'set', path: node.path, value: option.value });
        }}
      >
        {options.map(({ label }, index) => (
          <option key={label} value={index}>
            {label}
          </option>
        ))}
      </select>
    </div>
  );
}

type AddItemProps = FormFieldProps & Readonly<{ index: number; value: unknown }>;

/** One more item at the end of a list of things with fields of their own. */
function AddItem({ node, index, value, onEdit }: AddItemProps) {
  return (
    <div className={styles.absent}>
      <button
        type="button"
        className={styles.link}
        aria-label={`Add one: ${node.label}`}
        onClick={() => onEdit({ op: 'insert', path: node.path, index, value })}
      >
        Add one
      </button>
    </div>
  );
}

function AbsentField({ node, blank, onEdit }: FormFieldProps & Readonly<{ blank: unknown }>) {
  return (
    <div className={styles.absent}>
      <button
        type="button"
        className={styles.link}
        onClick={() => onEdit({ op: 'set', path: node.path, value: blank })}
      >
        Add: {node.label}
      </button>
      <span className={styles.hint}>{node.hint}</span>
    </div>
  );
}

/** A field of several: a box with its name. */
function Boxed({
  node,
  onEdit,
  children,
}: FormFieldProps & Readonly<{ children: React.ReactNode }>) {
  return (
    <fieldset className={styles.box}>
      <legend>
        {node.label} <LeaveOut node={node} onEdit={onEdit} />
      </legend>
      {node.problem !== null && <p className={field.problem}>{node.problem}</p>}
      <div className={styles.fields}>{children}</div>
    </fieldset>
  );
}

function LeaveOut({ node, onEdit }: FormFieldProps) {
  if (!node.isOptional) return null;
  return (
    <button
      type="button"
      className={styles.link}
      aria-label={`Leave out: ${node.label}`}
      onClick={() => onEdit({ op: 'remove', path: node.path })}
    >
      leave out
    </button>
  );
}

function PlainField({ node, onEdit, isInner = false }: FormFieldProps & { isInner?: boolean }) {
  const id = useId();
  const isRows = node.control === 'points' || node.control === 'list';
  const name = `${isInner ? 'Value' : node.label}${node.unit === '' ? '' : `, ${node.unit}`}`;
  return (
    <div
      className={`${field.field} ${isRows || node.path.at(-1) === 'statement' ? styles.wide : ''}`}
    >
      <span className={styles.label}>
        {isRows ? <span className="soft">{name}</span> : <label htmlFor={id}>{name}</label>}{' '}
        <LeaveOut node={node} onEdit={onEdit} />
      </span>
      <ControlOf node={node} id={id} onEdit={onEdit} />
      {node.problem === null ? (
        <span className={styles.hint}>{node.hint}</span>
      ) : (
        <p className={field.problem} id={`${id}-problem`}>
          {node.problem}
        </p>
      )}
    </div>
  );
}

function ControlOf({ node, id, onEdit }: FormFieldProps & Readonly<{ id: string }>) {
  if (node.control === 'points')
    return <PointRows node={node} rows={node.rows} heads={node.heads} onEdit={onEdit} />;
  if (node.control === 'numbers')
    return (
      <NumberRow node={node} id={id} values={node.values} heads={node.heads} onEdit={onEdit} />
    );
  if (node.control === 'list')
    return <ListRows node={node} items={node.items} of={node.of} onEdit={onEdit} />;
  if (node.control === 'choice') {
    return (
      <select
        id={id}
        className={field.input}
        value={node.value}
        onChange={({ target }) => onEdit({ op: 'set', path: node.path, value: target.value })}
      >
        {node.words.map((word) => (
          <option key={word}>{word}</option>
        ))}
      </select>
    );
  }
  if (node.control !== 'text' && node.control !== 'number') return null;
  return (
    <TypedInput
      id={id}
      value={node.value}
      of={node.control}
      path={node.path}
      isWrong={node.problem !== null}
      onEdit={onEdit}
    />
  );
}
