import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { Sentence } from '@/lib/view/sentence';
import styles from './in-short.module.css';

type InShortProps = Readonly<{ sentences: readonly Sentence[] }>;

/** What a screen says first: its answer in sentences, before the tables. */
export function InShort({ sentences }: InShortProps) {
  if (sentences.length === 0) return null;
  return (
    <section className="panel" aria-label="In short">
      <div className={styles.answer}>
        {sentences.map((sentence, index) => (
          // Sentences never change places.
          // biome-ignore lint/suspicious/noArrayIndexKey: fixed order
          <p key={index}>
            <SentenceLine sentence={sentence} />
          </p>
        ))}
      </div>
    </section>
  );
}
