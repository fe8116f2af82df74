import Link from 'next/link';
import { type ReactNode, useId } from 'react';
import type { FigureView } from '@/lib/view/figure-view';
import styles from './figure-value.module.css';

type FigureValueProps = Readonly<{ figure: FigureView }>;

/** A number that opens its evidence. Works without script: the browser's own popover. */
export function FigureValue({ figure }: FigureValueProps) {
  const id = `evidence-${useId()}`;
  const half = figure.uncertainty === null ? '' : `± ${figure.uncertainty} `;
  const rest = `${half}${figure.unit}`.trim();
  return (
    <span className={styles.figure}>
      <button className={styles.value} type="button" popoverTarget={id}>
        {figure.value}
        {figure.people !== undefined && (
          <sup className={styles.people} title="rests on what a person set">
            †<span className="visually-hidden"> rests on what a person set</span>
          </sup>
        )}
        {rest !== '' && (
          <>
            {' '}
            <span className={styles.rest}>{rest}</span>
          </>
        )}
      </button>
      <FigureEvidence id={id} figure={figure} />
    </span>
  );
}

/**
 * What a figure rests on: parts of its uncertainty, method, files, channels, stretch. Spans only,
 * so that it may stand inside a paragraph.
 */
function FigureEvidence({ id, figure }: FigureValueProps & Readonly<{ id: string }>) {
  return (
    <span
      className={`beside ${styles.evidence}`}
      id={id}
      popover="auto"
      role="dialog"
      aria-label={figure.label}
    >
      <span className={styles.label}>{figure.label}</span>
      <span className={styles.whole}>{figure.text}</span>
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
