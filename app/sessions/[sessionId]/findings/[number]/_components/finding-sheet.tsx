import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { FindingView } from '@/lib/view/findings-view';
import styles from './finding-sheet.module.css';

type FindingSheetProps = Readonly<{ view: FindingView; listHref: string }>;

/** One finding as it is read: what was seen, the figures of its stretch, what should change. */
export function FindingSheet({ view, listHref }: FindingSheetProps) {
  return (
    <article className={styles.sheet}>
      <header className={styles.head}>
        <p className="soft">
          <Link href={listHref}>Findings</Link> / no. {view.number}
        </p>
        <h1>{view.title}</h1>
        <p className={styles.facts}>
          <span>{view.kind}</span>
          <span className={view.tone}>{view.severity}</span>
          <span>{view.state}</span>
          <Link className="num" href={view.timelineHref}>
            {view.when}
          </Link>
          {view.channels !== '' && <span>{view.channels}</span>}
        </p>
        <Link className="button" href={`${view.href}?edit=1`}>
          Edit
        </Link>
      </header>
      <div className="columns">
        <div className="stack">
          <section className="panel">
            <h2>What was seen</h2>
            <p className={styles.words}>{view.seen}</p>
          </section>
          <section className="panel">
            <h2>What should change</h2>
            {view.change === '' ? (
              <p className="soft">Nothing is written down yet.</p>
            ) : (
              <p className={styles.words}>{view.change}</p>
            )}
            {view.action !== '' && <p>{view.action}</p>}
          </section>
        </div>
        <FigureList view={view} />
      </div>
      <p className="soft">
        By {view.author}, {view.created}
        {view.version > 1 && `; changed ${view.updated}, version ${view.version}`}
      </p>
    </article>
  );
}

function FigureList({ view }: Readonly<{ view: FindingView }>) {
  return (
    <section className="panel">
      <h2>Figures of this stretch, as captured</h2>
      {view.figures.length === 0 ? (
        <p className="soft">None was captured.</p>
      ) : (
        <table className="data">
          <tbody>
            {view.figures.map(({ key, figure }) => (
              <tr key={key}>
                <th scope="row">{figure.label}</th>
                <td className="right">
                  <FigureValue figure={figure} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
