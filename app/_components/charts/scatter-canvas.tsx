'use client';

import { useEffect, useRef, useState } from 'react';
import type { DifferencePicture } from '@/lib/view/navigation/difference-picture';
import styles from './scatter-canvas.module.css';
import type { ScatterChart } from './scatter-runtime';
import { whenFacesAreThere } from './strip-faces';
import { useChartColours } from './use-chart-colours';

type ScatterCanvasProps = Readonly<{ picture: DifferencePicture }>;

/** Differences over range; the chart library comes with the first of them. */
export function ScatterCanvas({ picture }: ScatterCanvasProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<ScatterChart | null>(null);
  const colours = useChartColours();
  const [state, setState] = useState<'coming' | 'there' | 'failed'>('coming');

  useEffect(() => {
    if (colours === null) return;
    let isWanted = true;
    let forget = (): void => {};
    const drawing = { picture, colours };
    const draw = (at: ScatterChart): void => {
      at.draw(drawing);
      forget = whenFacesAreThere(() => at.draw(drawing));
    };
    if (chart.current !== null) draw(chart.current);
    else
      import('./scatter-runtime').then(
        ({ makeScatterChart }) => {
          if (!isWanted || canvas.current === null) return;
          chart.current ??= makeScatterChart(canvas.current, drawing);
          draw(chart.current);
          setState('there');
        },
        () => {
          // The table below says what the picture would.
          if (isWanted) setState('failed');
        },
      );
    return () => {
      isWanted = false;
      forget();
    };
  }, [picture, colours]);

  useEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );

  if (state === 'failed')
    return <p className="soft">The picture could not be loaded; the table says the same.</p>;
  return (
    <div className={styles.box}>
      <canvas
        ref={canvas}
        className={styles.canvas}
        role="img"
        aria-label={picture.label}
        data-state={state}
      />
    </div>
  );
}
