import type { BlockView } from '@/lib/view/debrief/document-view';
import styles from './document.module.css';
import { Runs } from './runs';

type FindingPanelProps = Readonly<{ finding: Extract<BlockView, { kind: 'finding' }> }>;

function Words({ label, text }: Readonly<{ label: string; text: string }>) {
  if (text.trim() === '') return null;
  return (
    <p>
      <strong>{label}</strong> {text}
    </p>
  );
}

/** One finding with the figures captured with it. */
export function FindingPanel({ finding }: FindingPanelProps) {
  const channels = finding.channels.length === 0 ? '' : `, ${finding.channels.join(', ')}`;
  return (
    <section className={styles.finding} id={finding.id}>
      <h3>
        Finding {finding.number}: {finding.title}
      </h3>
      <p className={styles.facts}>
        {`${finding.about}, ${finding.severity}, ${finding.state}. ${finding.stretch}${channels}. By ${finding.author}.`}
      </p>
      <Words label="Seen." text={finding.seen} />
      <Words label="Change." text={finding.change} />
      {finding.numbers.length > 0 && (
        <dl className={styles.captured}>
          {finding.numbers.map(({ label, run }) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>
                <Runs runs={[run]} />
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}
