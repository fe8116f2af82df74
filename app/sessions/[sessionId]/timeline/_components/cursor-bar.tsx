'use client';

import { useEffect, useRef } from 'react';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { readStripAt } from '@/lib/view/charts/strip-reading';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { formatSessionTime } from '@/lib/view/format-time';
import type { LogMark } from '@/lib/view/log-mark';
import { lastWords, logText, readingText, utcText } from '@/lib/view/timeline-readout';
import type { Strip } from '@/lib/view/timeline-strips';
import styles from './cursor-bar.module.css';
import type { CursorStore } from './cursor-store';
import { useClock } from './use-axis';

type CursorBarProps = Readonly<{
  cursor: CursorStore;
  /** Address of the pictures of the approach, to open them at the cursor. */
  approach: string;
  zeroTaiNs: string;
  log: readonly LogMark[];
  range: Strip | null;
  answers: readonly EnvelopeAnswer[];
  window: TimeWindow;
}>;

const SPOKEN_AFTER_MS = 700;

/** Time, UTC, range and the last words at the cursor; read out once the cursor has come to rest. */
export function CursorBar({
  cursor,
  approach,
  zeroTaiNs,
  log,
  range,
  answers,
  window,
}: CursorBarProps) {
  const clock = useClock();
  // Session time is what every other screen shows: it needs no name.
  const isNamed = clock.axis.kind !== 'session' && clock.axis.kind !== 'distance';
  const besides = ['utc', 'distance'].includes(clock.axis.kind) ? 'session' : 'utc';
  const time = useRef<HTMLSpanElement>(null);
  const utc = useRef<HTMLSpanElement>(null);
  const out = useRef<HTMLSpanElement>(null);
  const words = useRef<HTMLSpanElement>(null);
  const pictures = useRef<HTMLAnchorElement>(null);
  const spoken = useRef<HTMLParagraphElement>(null);

  useEffect(() => {
    let rest: ReturnType<typeof setTimeout> | undefined;
    const put = (element: HTMLElement | null, text: string): void => {
      if (element !== null && element.textContent !== text) element.textContent = text;
    };
    const write = (): void => {
      const tS = cursor.get();
      put(time.current, clock.text(tS));
      put(utc.current, besides === 'session' ? formatSessionTime(tS) : utcText(zeroTaiNs, tS));
      if (pictures.current !== null) pictures.current.href = `${approach}?at=${tS.toFixed(1)}`;
      const series = range?.series[0];
      const at = { tS, window, fromSi: range?.fromSi ?? 1 };
      const reading = series === undefined ? null : readStripAt(answers, series, at);
      put(out.current, reading === null ? 'range not known' : `${readingText(reading, 1)} m out`);
      const last = lastWords(log, tS);
      put(words.current, last === null ? 'nothing said yet' : logText(last));
    };
    const moved = (): void => {
      write();
      clearTimeout(rest);
      // A cursor moved by the pointer is watched, not listened to.
      if (document.activeElement?.id !== 'timeline-cursor') return;
      rest = setTimeout(() => put(spoken.current, spokenText()), SPOKEN_AFTER_MS);
    };
    const spokenText = (): string => {
      const strips = Array.from(document.querySelectorAll<HTMLElement>('[data-strip]'), (list) => {
        const value = list.querySelector('[data-part="value"]')?.textContent ?? '';
        const rate = list.querySelector('[data-part="rate"]')?.textContent ?? '';
        const changing = rate === '' ? '' : `, ${rate}`;
        return `${list.dataset.strip} ${value} ${list.dataset.unit ?? ''}`.trim() + changing;
      });
      return [clock.text(cursor.get()), ...strips, words.current?.textContent ?? ''].join(', ');
    };
    write();
    const stop = cursor.subscribe(moved);
    return () => {
      stop();
      clearTimeout(rest);
    };
  }, [clock, besides, cursor, approach, zeroTaiNs, log, range, answers, window]);

  return (
    <div className={styles.bar}>
      <span className={styles.label}>at the cursor</span>
      <span ref={time} className={styles.time} title={clock.name} />
      {isNamed && <span className={styles.label}>{clock.name}</span>}
      <span className={styles.pair}>
        <span ref={utc} className="num" />{' '}
        <span className={styles.label}>{besides === 'session' ? 'session' : 'UTC'}</span>
      </span>
      <span ref={out} className="num" />
      <span ref={words} className={styles.words} />
      <a ref={pictures} href={approach}>
        in the pictures of the approach
      </a>
      <p ref={spoken} className="visually-hidden" aria-live="polite" />
    </div>
  );
}
