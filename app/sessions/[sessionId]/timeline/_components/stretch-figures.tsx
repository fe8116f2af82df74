'use client';

import { FigureValue } from '@/app/_components/figure/figure-value';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { isStretchView } from '@/lib/view/checked-answers';
import type { StretchView } from '@/lib/view/timeline-stretch';
import styles from './side-sheet.module.css';
import { useClock } from './use-axis';
import { useFetched } from './use-fetched';

type StretchFiguresProps = Readonly<{ sessionId: string; stretch: TimeWindow }>;

/** The figures that will be captured, and what was said meanwhile. */
export function StretchFigures({ sessionId, stretch }: StretchFiguresProps) {
  const clock = useClock();
  const query = new URLSearchParams({ from: `${stretch.fromS}`, to: `${stretch.toS}` });
  const fetched = useFetched(
    `/sessions/${encodeURIComponent(sessionId)}/timeline/stretch?${query}`,
    isStretchView,
  );
  if (fetched.state === 'failed')
    return (
      <p role="alert" className={styles.note}>
        The figures of this stretch could not be computed. {fetched.message}{' '}
        <button type="button" className="button" onClick={fetched.retry}>
          Try again
        </button>
      </p>
    );
  if (fetched.state !== 'ready')
    return <p className="soft">Computing the figures of this stretch…</p>;
  const { figures, words, moreWords } = fetched.value;
  return (
    <>
      <FigureList title="In this stretch" figures={figures} />
      <h3 className={styles.sub}>Said and logged meanwhile</h3>
      {words.length === 0 && <p className="soft">Nothing.</p>}
      <ul className={styles.words}>
        {words.map((word) => (
          <li key={`${word.tS} ${word.text}`}>
            <span className="num">{clock.text(word.tS)}</span> {word.text}
          </li>
        ))}
      </ul>
      {moreWords > 0 && <p className="soft">{moreWords} more.</p>}
    </>
  );
}

type FigureListProps = Readonly<{ title: string; figures: StretchView['figures'] }>;

export function FigureList({ title, figures }: FigureListProps) {
  return (
    <>
      <h3 className={styles.sub}>{title}</h3>
      {figures.length === 0 && <p className="soft">None.</p>}
      <dl className={styles.figures}>
        {figures.map(({ key, figure }) => (
          <div key={key}>
            <dt>{figure.label}</dt>
            <dd>
              <FigureValue figure={figure} />
            </dd>
          </div>
        ))}
      </dl>
    </>
  );
}
