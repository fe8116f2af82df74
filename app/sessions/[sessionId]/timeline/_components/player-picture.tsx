'use client';

import { type ComponentProps, type RefObject, useRef, useState } from 'react';
import type { PlayedRecording } from '@/lib/view/recordings/played-recordings';
import styles from './player.module.css';

type PlayerPictureProps = Readonly<{
  media: RefObject<HTMLVideoElement | null>;
  recording: PlayedRecording;
  shown: boolean;
  events: ComponentProps<'video'>;
}>;

const WIDTHS = { least: 240, usual: 336, most: 960, step: 24 } as const;
const KEYS: Readonly<Record<string, number>> = { ArrowLeft: WIDTHS.step, ArrowRight: -WIDTHS.step };

/** The picture beside the strips, as wide as its left edge is drawn; sound alone takes no room. */
export function PlayerPicture({ media, recording, shown, events }: PlayerPictureProps) {
  const [widthPx, setWidthPx] = useState<number>(WIDTHS.usual);
  const drag = useRef<Readonly<{ x: number; widthPx: number }> | null>(null);
  const resize = (px: number): void =>
    setWidthPx(Math.round(Math.min(WIDTHS.most, Math.max(WIDTHS.least, px))));
  return (
    <div className={styles.picture} hidden={!shown} style={{ width: `${widthPx}px` }}>
      {/* biome-ignore lint/a11y/useSemanticElements: a rule takes no focus and no keys, this edge does */}
      <div
        className={styles.edge}
        role="separator"
        tabIndex={0}
        aria-orientation="vertical"
        aria-label="Width of the picture"
        aria-valuemin={WIDTHS.least}
        aria-valuemax={WIDTHS.most}
        aria-valuenow={widthPx}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          drag.current = { x: event.clientX, widthPx };
        }}
        onPointerMove={(event) => {
          if (drag.current !== null) resize(drag.current.widthPx + drag.current.x - event.clientX);
        }}
        onPointerUp={() => {
          drag.current = null;
        }}
        onPointerCancel={() => {
          drag.current = null;
        }}
        onDoubleClick={() => resize(WIDTHS.usual)}
        onKeyDown={(event) => {
          const by = KEYS[event.key];
          if (by === undefined && event.key !== 'Home') return;
          event.preventDefault();
          resize(by === undefined ? WIDTHS.usual : widthPx + by);
        }}
      />
      <video
        ref={media}
        key={recording.id}
        src={recording.href}
        preload="metadata"
        playsInline
        aria-label={`Picture of ${recording.name}, in step with the cursor`}
        {...events}
      />
    </div>
  );
}
