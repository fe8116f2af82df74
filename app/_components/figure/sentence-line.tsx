import Link from 'next/link';
import { gluedParts, type Sentence } from '@/lib/view/sentence';
import { FigureValue } from './figure-value';
import styles from './sentence-line.module.css';

type SentenceLineProps = Readonly<{ sentence: Sentence }>;

/** A sentence whose figures open their evidence and whose links lead on. */
export function SentenceLine({ sentence }: SentenceLineProps) {
  return gluedParts(sentence).map(({ part, marks }, index) => {
    // The parts of a sentence never change places.
    const key = `${index}`;
    if (typeof part === 'string') return <span key={key}>{part}</span>;
    return (
      <span key={key} className={styles.glued}>
        {'href' in part ? (
          <Link href={part.href} prefetch={false}>
            {part.text}
          </Link>
        ) : (
          <FigureValue figure={part} />
        )}
        {marks}
      </span>
    );
  });
}
