import field from '@/app/_components/form/field.module.css';
import styles from './version-choice.module.css';

type VersionChoiceProps = Readonly<{ numbers: readonly number[]; from: number; to: number }>;

/** Which two versions are shown; the choice stands in the address. */
export function VersionChoice({ numbers, from, to }: VersionChoiceProps) {
  if (numbers.length < 2) return null;
  return (
    <form method="get" className={`${styles.form} no-print`}>
      <Choice label="From version" name="from" numbers={numbers} value={from} />
      <Choice label="to version" name="to" numbers={numbers} value={to} />
      <button className="button" type="submit">
        Compare
      </button>
    </form>
  );
}

type ChoiceProps = Readonly<{
  label: string;
  name: string;
  numbers: readonly number[];
  value: number;
}>;

function Choice({ label, name, numbers, value }: ChoiceProps) {
  return (
    <label className={styles.choice}>
      {label}
      <select key={value} name={name} className={field.input} defaultValue={value}>
        {numbers.map((number) => (
          <option key={number}>{number}</option>
        ))}
      </select>
    </label>
  );
}
