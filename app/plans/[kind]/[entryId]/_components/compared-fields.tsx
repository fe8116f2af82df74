import styles from '@/app/plans/_components/plans.module.css';
import type { CompareView, FieldRow } from '@/lib/view/plans/compare-view';

type ComparedFieldsProps = Readonly<{ view: CompareView; from: number; to: number }>;

/** What two versions say otherwise: outside the list, then rule by rule or step by step. */
export function ComparedFields({ view, from, to }: ComparedFieldsProps) {
  const isSame = view.head.length + view.items.length === 0;
  return (
    <section className="panel stack">
      <p>{isSame ? `Nothing differs but the writing: ${view.summary}.` : `${view.summary}.`}</p>
      {view.head.length > 0 && (
        <Fields title="The file itself" rows={view.head} {...{ from, to }} />
      )}
      {view.items.map((item) => (
        <div key={`${item.key}-${item.change}`} className="stack">
          <h2>
            {item.name} <span className={styles.change}>{item.change}</span>
          </h2>
          {item.fields.length > 0 && <Fields title={null} rows={item.fields} {...{ from, to }} />}
        </div>
      ))}
    </section>
  );
}

type FieldsProps = Readonly<{
  title: string | null;
  rows: readonly FieldRow[];
  from: number;
  to: number;
}>;

function Fields({ title, rows, from, to }: FieldsProps) {
  return (
    <table className={`data ${styles.compared}`}>
      {title !== null && <caption>{title}</caption>}
      <thead>
        <tr>
          <th scope="col">field</th>
          <th scope="col">version {from}</th>
          <th scope="col">version {to}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ key, field, before, after }) => (
          <tr key={key}>
            <th scope="row">{field}</th>
            <td className="words">{before}</td>
            <td className="words">{after}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
