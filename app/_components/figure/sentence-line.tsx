import Link from 'next/link';
import type { Sentence } from '@/lib/view/sentence';
import { FigureValue } from './figure-value';

type SentenceLineProps = Readonly<{ sentence: Sentence }>;

/** A sentence whose figures open their evidence and whose links lead on. */
export function SentenceLine({ sentence }: SentenceLineProps) {
  return sentence.map((part, index) => {
    // The parts of a sentence never change places.
    const key = `${index}`;
    if (typeof part === 'string') return <span key={key}>{part}</span>;
    if ('href' in part) {
      return (
        <Link key={key} href={part.href} prefetch={false}>
          {part.text}
        </Link>
      );
    }
    return <FigureValue key={key} figure={part} />;
  });
}
