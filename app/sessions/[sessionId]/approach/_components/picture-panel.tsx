'use client';

import type { PointerEvent } from 'react';
import { partNear } from '@/lib/view/approach/moment';
import type { Picture } from '@/lib/view/approach/picture';
import styles from './approach.module.css';
import { PictureScene } from './picture-scene';

type PicturePanelProps = Readonly<{
  picture: Picture;
  part: number | null;
  /** Radius of the corridor at the moment, px; null where there is none or not in this picture. */
  ringPx: number | null;
  choose: (part: number) => void;
}>;

/** One picture; a press or drag chooses the moment of the flight nearest to it. */
export function PicturePanel({ picture, part, ringPx, choose }: PicturePanelProps) {
  const { plot } = picture;
  const place = part === null ? null : (picture.places[part] ?? null);
  const pick = (event: PointerEvent<SVGSVGElement>): void => {
    if (event.buttons === 0 && event.type === 'pointermove') return;
    const box = event.currentTarget.getBoundingClientRect();
    const point = {
      x: ((event.clientX - box.left) / box.width) * picture.width,
      y: ((event.clientY - box.top) / box.height) * picture.height,
    };
    const found = partNear(picture, point, part);
    if (found !== null) choose(found);
  };
  return (
    <section className="panel" aria-labelledby={`picture-${picture.id}`}>
      <h2 id={`picture-${picture.id}`}>{picture.title}</h2>
      <figure>
        <svg
          className={styles.drawing}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          role="img"
          aria-label={picture.label}
          onPointerDown={pick}
          onPointerMove={pick}
        >
          <PictureScene picture={picture} />
          {ringPx !== null && (
            <g clipPath={`url(#plot-${picture.id})`}>
              <circle
                className={styles.ring}
                cx={(plot.left + plot.right) / 2}
                cy={(plot.top + plot.bottom) / 2}
                r={ringPx}
              />
            </g>
          )}
          {place !== null && (
            <>
              <path
                className={styles.hair}
                d={`M${place[0]} ${plot.top}V${plot.bottom}M${plot.left} ${place[1]}H${plot.right}`}
              />
              <circle className={styles.cursor} cx={place[0]} cy={place[1]} r="6" />
            </>
          )}
        </svg>
        <figcaption className="panel-note">
          {picture.caption}
          {part !== null && place === null && (
            <strong> The moment has no place here: no data, or outside what is drawn.</strong>
          )}
        </figcaption>
      </figure>
    </section>
  );
}
