import type { PublishedView } from '@/lib/view/debrief/published-view';
import styles from './published.module.css';

type RecordPanelProps = Readonly<{ view: PublishedView }>;

/** What the record rests on, and how a reader checks it. */
export function RecordPanel({ view }: RecordPanelProps) {
  return (
    <footer className={styles.record}>
      <h2>Record</h2>
      <dl className={styles.facts}>
        {view.facts.slice(view.headFacts).map((fact) => (
          <div key={fact.label}>
            <dt>{fact.label}</dt>
            <dd>{fact.text}</dd>
          </div>
        ))}
        {view.downloads.map((file) => (
          <div key={file.href}>
            <dt>{file.text}</dt>
            <dd>
              SHA-256 <code>{file.sha256}</code>
            </dd>
          </div>
        ))}
      </dl>
      <p className="panel-note">
        The debrief’s SHA-256 is that of record.json byte for byte: canonical JSON (RFC 8785).{' '}
        <code>sha256sum record-….json</code> shows the same digits.
      </p>
      {view.commands.length > 0 && (
        <>
          <h3>Checking without this program</h3>
          <p>With all files of this publication saved in one folder:</p>
          <ol className={styles.commands}>
            {view.commands.map(({ what, command }) => (
              <li key={command}>
                {what}:
                <pre>
                  <code>{command}</code>
                </pre>
              </li>
            ))}
          </ol>
        </>
      )}
      <h3>Source files</h3>
      <dl className={styles.facts}>
        {view.sources.map((source) => (
          <div key={source.file}>
            <dt>{source.file}</dt>
            <dd>
              <code>{source.sha256}</code>
            </dd>
          </div>
        ))}
      </dl>
      <p className={styles.caution}>{view.caution}</p>
    </footer>
  );
}
