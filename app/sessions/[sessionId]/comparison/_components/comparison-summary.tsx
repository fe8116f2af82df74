import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { ComparisonView } from '@/lib/view/comparison-view';
import { sentenceText } from '@/lib/view/sentence';
import styles from './comparison.module.css';

type ComparisonSummaryProps = Readonly<{ view: ComparisonView }>;

/** The answer in sentences, then what so many runs can say and which did not count. */
export function ComparisonSummary({ view }: ComparisonSummaryProps) {
  return (
    <section className="panel stack" aria-label="In short">
      {view.lead.map((sentence, index) => (
        <p key={sentenceText(sentence)} className={index === 0 ? styles.lead : undefined}>
          <SentenceLine sentence={sentence} />
        </p>
      ))}
      <p className="soft">
        Aligned on {view.alignedOn}. {view.report.join(' ')}
      </p>
      {view.nearest !== null && (
        <p className="soft">
          The run most like the flight: <SentenceLine sentence={view.nearest} />
        </p>
      )}
      {view.vehicle !== null && (
        <p>
          <SentenceLine sentence={view.vehicle} />
        </p>
      )}
      <dl className={styles.groups}>
        {view.groups.map(({ key, what, about, claim }) => (
          <div key={key}>
            <dt>{what}</dt>
            <dd className="soft">{about}.</dd>
            <dd>{claim}</dd>
          </div>
        ))}
      </dl>
      <details>
        <summary>What this number of runs can say</summary>
        <ul className={styles.claims}>
          {view.support.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </details>
      {view.leftOut.length > 0 && (
        <details>
          <summary>{view.leftOut.length} left out</summary>
          <ul className={styles.claims}>
            {view.leftOut.map(({ name, reason }) => (
              <li key={name}>
                {name}: {reason}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
