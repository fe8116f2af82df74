import type { PlacesView } from '@/lib/view/changed-places';

type PlacesTableProps = Readonly<{ heading: string; places: PlacesView }>;

/** What only one of the two reconstructions lists. */
export function PlacesTable({ heading, places }: PlacesTableProps) {
  if (places.rows.length === 0) return null;
  return (
    <section className="panel stack">
      <h2>{heading}</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">which</th>
            <th scope="col" className="right">
              session time
            </th>
          </tr>
        </thead>
        <tbody>
          {places.rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.what}</th>
              <td className="words">{row.detail}</td>
              <td className="right num">{row.when}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {places.more !== null && <p className="soft">{places.more}</p>}
    </section>
  );
}
