import type { BlockView } from '@/lib/view/debrief/document-view';
import styles from './document.module.css';
import { Runs } from './runs';

type FindingPanelProps = Readonly<{ finding: Extract<BlockView, { kind: 'finding' }> }>;

function Words({ label, paragraphs }: Readonly<{ label: string; paragraphs: readonly string[] }>) {
  return paragraphs.map((paragraph, index) => {
    // Paragraphs of a resolved finding never change places.
    const key = `${index}`;
    return (
      <p key={key} className={styles.words}>
        {index === 0 && <strong>{label} </strong>}
        {paragraph}
      </p>
    );
  });
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
      <Words label="Seen." paragraphs={finding.seen} />
      <Words label="Change." paragraphs={finding.change} />
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
