import Link from 'next/link';
import type { OverruledFault } from '@/lib/view/stretches-view';
import type { StretchPlace } from '../actions';
import { KeepForm } from './keep-form';

type FaultListProps = Readonly<{ rows: readonly OverruledFault[]; place: StretchPlace }>;

/** Faults of the file; those whose samples are not used can be overruled. */
export function FaultList({ rows, place }: FaultListProps) {
  return (
    <section className="panel">
      <h2>Faults</h2>
      {rows.length === 0 ? (
        <p className="soft">No fault was found in this file.</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">kind</th>
              <th scope="col">column</th>
              <th scope="col">when</th>
              <th scope="col">note</th>
              <th scope="col">
                <span className="visually-hidden">overrule</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">{row.kind}</th>
                <td>{row.channel}</td>
                <td>
                  <Link className="num" href={row.href} prefetch={false}>
                    {row.when}
                  </Link>
                </td>
                <td>{row.note}</td>
                <td>{row.stretch !== null && <KeepForm row={row} place={place} />}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
