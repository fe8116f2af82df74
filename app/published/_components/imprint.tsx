import Link from 'next/link';
import type { PublishedView } from '@/lib/view/debrief/published-view';
import styles from './published.module.css';

type ImprintProps = Readonly<{ view: PublishedView }>;

/** What stands over a published debrief: number, title, state, caution, contents. */
export function Imprint({ view }: ImprintProps) {
  return (
    <header className={styles.imprint}>
      {view.banner !== null && <p className={styles.banner}>{view.banner}</p>}
      {view.withdrawn !== null && <p className={styles.banner}>{view.withdrawn}</p>}
      {view.earlierActs.length > 0 && (
        <ul className={styles.superseded}>
          {view.earlierActs.map((act) => (
            <li key={act}>{act}</li>
          ))}
        </ul>
      )}
      {view.superseded !== null && (
        <p className={styles.superseded}>
          {view.superseded.text} <Link href={view.superseded.href}>Go to it</Link>
        </p>
      )}
      <p className="soft">{view.label}</p>
      <h1>{view.title}</h1>
      <dl className={styles.facts}>
        {view.facts.slice(0, view.headFacts).map((fact) => (
          <div key={fact.label}>
            <dt>{fact.label}</dt>
            <dd>{fact.text}</dd>
          </div>
        ))}
        <div>
          <dt>SHA-256</dt>
          <dd>
            <code>{view.sha256}</code>
          </dd>
        </div>
      </dl>
      <ul className={styles.downloads}>
        {view.downloads.map((file) => (
          <li key={file.href}>
            <a className="button" href={file.href} download>
              {file.text}
            </a>
          </li>
        ))}
        {view.changesHref !== null && (
          <li>
            <Link className="button" href={view.changesHref}>
              What changed
            </Link>
          </li>
        )}
        {view.sessionHref !== null && (
          <li>
            <Link className="button" href={view.sessionHref}>
              To the session
            </Link>
          </li>
        )}
      </ul>
      <p className={styles.caution}>{view.caution}</p>
      {view.contents.length > 2 && (
        <nav aria-label="Contents">
          <ol className={styles.contents}>
            {view.contents.map((entry) => (
              <li key={entry.id}>
                <a href={`#${entry.id}`}>{entry.text}</a>
              </li>
            ))}
          </ol>
        </nav>
      )}
    </header>
  );
}
