import { useId } from 'react';
import styles from './field.module.css';

type FieldProps = Readonly<{
  label: string;
  name: string;
  value: string;
  /** Lines of a larger text; one line without it. */
  rows?: number;
  problem?: string | undefined;
  type?: 'text' | 'date' | undefined;
  /** Id of a `datalist` with values to choose from. */
  list?: string | undefined;
}>;

/** A text with its label above and, where it did not fit, what is wrong under it. */
export function Field({ label, name, value, rows, type = 'text', problem, list }: FieldProps) {
  const id = useId();
  const problemId = `${id}-problem`;
  const common = {
    id,
    name,
    className: styles.input,
    defaultValue: value,
    'aria-invalid': problem === undefined ? undefined : true,
    'aria-describedby': problem === undefined ? undefined : problemId,
  };
  return (
    <div className={styles.field}>
      <label htmlFor={id}>{label}</label>
      {rows === undefined ? (
        <input type={type} list={list} {...common} />
      ) : (
        <textarea rows={rows} {...common} />
      )}
      {problem !== undefined && (
        <p className={styles.problem} id={problemId}>
          {problem}
        </p>
      )}
    </div>
  );
}

type SelectFieldProps = Readonly<{
  label: string;
  name: string;
  value: string;
  /** What may be chosen: the value, and how it reads where that differs. */
  words: readonly (string | Readonly<{ value: string; text: string }>)[];
}>;

/** One of a few words. */
export function SelectField({ label, name, value, words }: SelectFieldProps) {
  const id = useId();
  return (
    <div className={styles.field}>
      <label htmlFor={id}>{label}</label>
      <select id={id} name={name} className={styles.input} defaultValue={value}>
        {words.map((word) =>
          typeof word === 'string' ? (
            <option key={word}>{word}</option>
          ) : (
            <option key={word.value} value={word.value}>
              {word.text}
            </option>
          ),
        )}
      </select>
    </div>
  );
}
