import field from '@/app/_components/form/field.module.css';
import type { CompareForm } from '@/lib/view/compare-question';
import styles from './comparison.module.css';

type QuestionFormProps = Readonly<{ form: CompareForm }>;

type ChoiceProps = Readonly<{
  label: string;
  name: string;
  value: string;
  choices: readonly Readonly<{ value: string; text: string }>[];
}>;

/** What is aligned, which run is opened, and what is tolerated: all of it in the page's address. */
export function QuestionForm({ form }: QuestionFormProps) {
  return (
    <form className={`panel no-print ${styles.question}`} method="get" aria-label="Compare on">
      <Choice label="Aligned on" name="along" value={form.along} choices={form.alongChoices} />
      <Choice label="Run opened" name="run" value={form.run} choices={form.runChoices} />
      <Choice
        label="Tolerated difference"
        name="tol"
        value={form.tolerance}
        choices={form.toleranceChoices}
      />
      {form.sizes.map(({ field: name, label, value }) => (
        <label key={name} className={styles.size}>
          {label}
          <input className={field.input} name={name} defaultValue={value} inputMode="decimal" />
        </label>
      ))}
      <button className="button" type="submit">
        Compare
      </button>
    </form>
  );
}

function Choice({ label, name, value, choices }: ChoiceProps) {
  return (
    <label>
      {label}
      <select className={field.input} name={name} defaultValue={value}>
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.text}
          </option>
        ))}
      </select>
    </label>
  );
}
