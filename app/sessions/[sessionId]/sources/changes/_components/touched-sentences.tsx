import Link from 'next/link';
import type { TouchedView } from '@/lib/view/changes-view';

type TouchedSentencesProps = Readonly<{ publications: readonly TouchedView[] }>;

/** What was published and the figures no longer say; a publication itself never changes. */
export function TouchedSentences({ publications }: TouchedSentencesProps) {
  if (publications.length === 0) {
    return (
      <section className="panel">
        <p className="soft">Nothing was published of this session.</p>
      </section>
    );
  }
  return publications.map((publication) => (
    <section className="panel" key={publication.key}>
      <h2>
        <Link href={publication.href}>{publication.title}</Link>
      </h2>
      {publication.note !== null && <p className="soft">{publication.note}</p>}
      {publication.rows.length > 0 && (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">published sentence or row</th>
              <th scope="col" className="right">
                published
              </th>
              <th scope="col" className="right">
                now
              </th>
            </tr>
          </thead>
          <tbody>
            {publication.rows.map((row) => (
              <tr key={row.rowKey}>
                <th scope="row">{row.sentence}</th>
                <td className="right num">
                  {row.numbers.map(({ key, published }) => (
                    <div key={key}>{published}</div>
                  ))}
                </td>
                <td className="right num beyond">
                  {row.numbers.map(({ key, now }) => (
                    <div key={key}>{now}</div>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  ));
}
