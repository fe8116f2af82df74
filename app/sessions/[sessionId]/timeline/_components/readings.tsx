'use client';

import { useEffect, useRef } from 'react';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { readStripAt } from '@/lib/view/charts/strip-reading';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { readingText } from '@/lib/view/timeline-readout';
import type { Strip } from '@/lib/view/timeline-strips';
import type { CursorStore } from './cursor-store';
import type { RatesStore } from './rates-store';
import styles from './timeline.module.css';

type ReadingsProps = Readonly<{
  strip: Strip;
  answers: readonly EnvelopeAnswer[];
  window: TimeWindow;
  cursor: CursorStore;
  rates: RatesStore;
}>;

const RATE_WORDS =
  'Rate of change: slope of the straight line through all samples within a second on both sides of the cursor. No rate over a gap or a step.';

/** Values and rates at the cursor, written straight into the page: the strip is not drawn again. */
export function Readings({ strip, answers, window, cursor, rates }: ReadingsProps) {
  const list = useRef<HTMLDListElement>(null);
  useEffect(() => {
    const cells = Array.from(list.current?.children ?? [], (row) => ({
      value: row.querySelector<HTMLElement>('[data-part="value"]'),
      rate: row.querySelector<HTMLElement>('[data-part="rate"]'),
    }));
    const put = (cell: HTMLElement | null, text: string): void => {
      if (cell !== null && cell.textContent !== text) cell.textContent = text;
    };
    const write = (): void => {
      strip.series.forEach((series, index) => {
        const at = { tS: cursor.get(), window, fromSi: strip.fromSi };
        const text = readingText(readStripAt(answers, series, at), strip.decimals);
        const cell = cells[index]?.value ?? null;
        put(cell, text);
        if (index === 0 && cell !== null) cell.dataset.value = text;
      });
    };
    const writeRates = (): void => {
      strip.series.forEach((series, index) => {
        put(cells[index]?.rate ?? null, rates.get(series.key));
      });
    };
    write();
    writeRates();
    const stops = [cursor.subscribe(write), rates.subscribe(writeRates)];
    return () => {
      for (const stop of stops) stop();
    };
  }, [strip, answers, window, cursor, rates]);
  return (
    <dl ref={list} className={styles.readings} data-strip={strip.label} data-unit={strip.unit}>
      {strip.series.map((series, index) => (
        <div key={series.key} className={index === 0 ? styles.firstReading : styles.reading}>
          <dt>{series.label}</dt>
          <dd data-part="value" />
          {series.role === 'measured' && (
            <dd data-part="rate" className={styles.rate} title={RATE_WORDS} />
          )}
        </div>
      ))}
    </dl>
  );
}
