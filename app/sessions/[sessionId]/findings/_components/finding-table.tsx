import Link from 'next/link';
import type { FindingsView } from '@/lib/view/findings-view';

type FindingTableProps = Readonly<{ view: FindingsView }>;

/** Findings of a session, gravest first. */
export function FindingTable({ view }: FindingTableProps) {
  if (view.rows.length === 0) {
    return (
      <section className="panel">
        <p className="soft">
          {view.total === 0
            ? 'No finding yet. On the timeline, select a stretch by mouse or keyboard and write what was seen.'
            : 'No finding has this kind and severity.'}
        </p>
      </section>
    );
  }
  return (
    <section className="panel">
      <table className="data">
        <thead>
          <tr>
            <th scope="col" className="right">
              no.
            </th>
            <th scope="col">title</th>
            <th scope="col">kind</th>
            <th scope="col">severity</th>
            <th scope="col">state</th>
            <th scope="col">owner</th>
            <th scope="col">due</th>
            <th scope="col">when</th>
          </tr>
        </thead>
        <tbody>
          {view.rows.map((row) => (
            <tr key={row.number}>
              <td className="right num">{row.number}</td>
              <th scope="row">
                <Link href={row.href}>{row.title}</Link>
              </th>
              <td>{row.kind}</td>
              <td className={row.tone}>{row.severity}</td>
              <td>{row.state}</td>
              <td>{row.owner}</td>
              <td className="num">{row.due}</td>
              <td>
                <Link className="num" href={row.timelineHref} prefetch={false}>
                  {row.when}
                </Link>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
