'use client';

import { useEffect, useState } from 'react';
import { type MomentView, momentOf, partOf } from '@/lib/view/approach/moment';
import type { Picture } from '@/lib/view/approach/picture';
import styles from './approach.module.css';
import { MomentBar } from './moment-bar';
import { PicturePanel } from './picture-panel';

type ApproachBoardProps = Readonly<{
  sessionId: string;
  pictures: readonly Picture[];
  moment: MomentView;
  rings: readonly (number | null)[];
  nearM: number | null;
  atS: number | null;
}>;

const SETTLE_MS = 250;

/** The pictures and the moment they share; the moment is kept in the address. */
export function ApproachBoard(props: ApproachBoardProps) {
  const { sessionId, pictures, moment, rings, nearM, atS } = props;
  const [part, setPart] = useState<number | null>(() => partOf(moment, atS));
  useEffect(() => {
    if (part === null) return;
    const timer = setTimeout(() => {
      const asked = new URLSearchParams(location.search);
      asked.set('at', momentOf(moment, part).toFixed(1));
      history.replaceState(null, '', `${location.pathname}?${asked}`);
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [part, moment]);
  if (pictures.length === 0) return null;
  return (
    <div className="stack">
      <MomentBar sessionId={sessionId} view={moment} part={part} choose={setPart} nearM={nearM} />
      <div className={styles.pictures}>
        {pictures.map((picture) => (
          <PicturePanel
            key={picture.id}
            picture={picture}
            part={part}
            ringPx={part === null || picture.id !== 'along' ? null : (rings[part] ?? null)}
            choose={setPart}
          />
        ))}
      </div>
    </div>
  );
}
