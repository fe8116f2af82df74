'use client';
import Link from 'next/link';
import { type ReactNode, type RefObject, useLayoutEffect, useRef } from 'react';
import type { FigureView } from '@/lib/view/figure-view';
import styles from './figure-value.module.css';

type FigureEvidenceProps = Readonly<{
  id: string;
  figure: FigureView;
  opener: RefObject<HTMLButtonElement | null>;
  onClosed: () => void;
}>;

/**
 * What a figure rests on: parts of its uncertainty, method, files, channels, stretch. Spans only,
 * so that it may stand inside a paragraph.
 */
export function FigureEvidence({ id, figure, opener, onClosed }: FigureEvidenceProps) {
  const card = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    // With its opener, so that it opens beside it and gives the focus back to it.
    if (card.current === null || card.current.matches(':popover-open')) return;
    card.current.showPopover(opener.current === null ? {} : { source: opener.current });
  }, [opener]);
  return (
    <span
      ref={card}
      className={`beside ${styles.evidence}`}
      id={id}
      popover="auto"
      role="dialog"
      aria-label={figure.label}
      onToggle={(event) => {
        if (event.newState === 'closed') onClosed();
      }}
    >
      <span className={styles.label}>{figure.label}</span>
      {figure.text !== '' && <span className={styles.whole}>{figure.text}</span>}
      {figure.reason !== null && <span className={styles.reason}>{figure.reason}</span>}
      {figure.people?.map((sentence) => (
        <span key={sentence} className={styles.reason}>
          {sentence}
        </span>
      ))}
      {figure.parts.map((part) => (
        <Fact key={part.label} term={`95 %, ${part.label}`}>
          {part.text}
        </Fact>
      ))}
      <Fact term="method">{figure.method}</Fact>
      {figure.stretch !== null && (
        <Fact term="stretch">
          <Link href={figure.stretch.href} prefetch={false}>
            {figure.stretch.text}
          </Link>
        </Fact>
      )}
      {figure.channels.length > 0 && <Fact term="channels">{figure.channels.join(', ')}</Fact>}
      {figure.runs !== null && <Fact term="simulator">{figure.runs}</Fact>}
      {figure.sources.map((source) => (
        <Fact key={source.file} term="source">
          {source.file}
          <span className={styles.hash}>{` SHA-256 ${source.sha256}`}</span>
        </Fact>
      ))}
      {figure.basis?.map(({ term, text }) => (
        <Fact key={term} term={term.toLowerCase()}>
          {text}
        </Fact>
      ))}
    </span>
  );
}

type FactProps = Readonly<{ term: string; children: ReactNode }>;

function Fact({ term, children }: FactProps) {
  return (
    <span className={styles.fact}>
      <span className={styles.term}>{term}</span>
      <span>{children}</span>
    </span>
  );
}
