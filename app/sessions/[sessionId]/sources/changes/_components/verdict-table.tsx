import type { ChangesView } from '@/lib/view/changes-view';

type VerdictTableProps = Readonly<{ verdicts: ChangesView['verdicts'] }>;

/** Rules that the newer reconstruction judges otherwise. */
export function VerdictTable({ verdicts }: VerdictTableProps) {
  if (verdicts.length === 0) return null;
  return (
    <section className="panel stack">
      <h2>Rules judged otherwise</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">rule</th>
            <th scope="col">before</th>
            <th scope="col">now</th>
          </tr>
        </thead>
        <tbody>
          {verdicts.map(({ key, rule, before, after }) => (
            <tr key={key}>
              <th scope="row">{rule}</th>
              <td>{before}</td>
              <td>{after}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
