'use client';

import Link from 'next/link';
import { type MomentView, momentOf, readingsAt, spokenMoment } from '@/lib/view/approach/moment';
import { timelineHref } from '@/lib/view/figure-view';
import { formatSessionTime } from '@/lib/view/format-time';
import styles from './approach.module.css';

type MomentBarProps = Readonly<{
  sessionId: string;
  view: MomentView;
  part: number | null;
  choose: (part: number) => void;
  nearM: number | null;
}>;

/** The moment marked in all pictures: moved by arrow keys or drag, its values beside it. */
export function MomentBar({ sessionId, view, part, choose, nearM }: MomentBarProps) {
  const atS = part === null ? null : momentOf(view, part);
  return (
    <section className={styles.bar} aria-label="Moment">
      <label className={styles.slider}>
        <span className={styles.label}>moment</span>
        <input
          type="range"
          min={0}
          max={view.parts - 1}
          step={1}
          value={part ?? 0}
          onChange={(event) => choose(Number(event.currentTarget.value))}
          aria-valuetext={part === null ? 'none chosen' : spokenMoment(view, part)}
        />
        <output className={styles.time}>
          {atS === null ? 'none chosen' : formatSessionTime(atS)}
        </output>
      </label>
      {part === null || atS === null ? (
        <p className={styles.hint}>
          Point at a place of the flight in any picture, or move the slider: the moment is marked in
          all of them{nearM === null ? '' : ', where it lies inside what is drawn'}.
        </p>
      ) : (
        <>
          <dl className={styles.readings}>
            {readingsAt(view, part).map(({ label, text }) => (
              <div key={label}>
                <dt>{label}</dt>
                <dd>{text}</dd>
              </div>
            ))}
          </dl>
          <p className={styles.hint}>
            Middle of {view.partS.toFixed(1)} s of the estimated motion.{' '}
            <Link href={timelineHref(sessionId, atS, atS)} prefetch={false}>
              This moment on the timeline
            </Link>
            , with its rows and evidence.
          </p>
        </>
      )}
    </section>
  );
}
