'use client';
import { useId, useRef, useState } from 'react';
import type { FigureView } from '@/lib/view/figure-view';
import { FigureEvidence } from './figure-evidence';
import styles from './figure-value.module.css';

type FigureValueProps = Readonly<{ figure: FigureView }>;

/** A value; a wide table may part it from its half-width. */
function Parted({ text }: Readonly<{ text: string }>) {
  const at = text.indexOf('\u00a0\u00b1');
  if (at < 0) return text;
  return (
    <>
      {text.slice(0, at + 1)}
      <wbr className={styles.part} />
      {text.slice(at + 1)}
    </>
  );
}

/** A number that opens its evidence, which is drawn only while it is open: a page has hundreds. */
export function FigureValue({ figure }: FigureValueProps) {
  const id = `evidence-${useId()}`;
  const button = useRef<HTMLButtonElement>(null);
  const [isOpen, setIsOpen] = useState(false);
  const half = figure.uncertainty === null ? '' : `± ${figure.uncertainty} `;
  const rest = `${half}${figure.unit}`.trim();
  return (
    <span className={styles.figure}>
      <button
        ref={button}
        className={styles.value}
        type="button"
        aria-haspopup="dialog"
        aria-expanded={isOpen}
        popoverTarget={isOpen ? id : undefined}
        onClick={(event) => {
          if (isOpen) return; // the browser closes what is open
          event.preventDefault(); // else it would close at once what this opens
          setIsOpen(true);
        }}
      >
        <Parted text={figure.value} />
        {figure.people !== undefined && (
          <sup className={styles.people} title="rests on what a person set">
            †<span className="visually-hidden"> rests on what a person set</span>
          </sup>
        )}
        {rest !== '' && (
          <>
            {/* A half-width may stand on its own line, a bare unit may not. */}
            {half === '' ? '\u00a0' : ' '}
            <span className={styles.rest}>{rest}</span>
          </>
        )}
      </button>
      {isOpen && (
        <FigureEvidence id={id} figure={figure} opener={button} onClosed={() => setIsOpen(false)} />
      )}
    </span>
  );
}
