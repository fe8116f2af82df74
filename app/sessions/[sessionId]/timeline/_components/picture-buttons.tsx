'use client';

import { useEffect, useState } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { clockStretch } from '@/lib/view/timeline-clock';
import type { TimelinePicture } from '@/lib/view/timeline-picture';
import styles from './selection-panel.module.css';
import type { ShownAxis } from './use-axis';
import type { Traces } from './use-traces';

type PictureButtonsProps = Readonly<{
  title: string;
  traces: Traces;
  window: TimeWindow;
  axis: ShownAxis;
}>;

type Way = 'copy-svg' | 'copy-png' | 'save-svg' | 'save-png';

const WAYS: readonly (readonly [way: Way, label: string])[] = [
  ['copy-svg', 'Copy as SVG'],
  ['copy-png', 'Copy as PNG'],
  ['save-svg', 'Save SVG'],
  ['save-png', 'Save PNG'],
];
const SAID_MS = 5000;
/** Dots a pixel of the drawing: sharp on paper. */
const PNG_SCALE = 2;

/** What the strips show as a picture: onto the clipboard or into a file. */
export function PictureButtons({ title, traces, window, axis }: PictureButtonsProps) {
  const [says, setSays] = useState('');
  useEffect(() => {
    if (says === '') return;
    const timer = setTimeout(() => setSays(''), SAID_MS);
    return () => clearTimeout(timer);
  }, [says]);
  const draw = async (): Promise<TimelinePicture | null> => {
    const { timelinePicture } = await import('@/lib/view/timeline-picture');
    return timelinePicture({
      title,
      stretch: clockStretch(axis.clock, window),
      strips: traces.shown,
      window,
      answers: traces.envelopes.answers,
      bands: traces.bands,
      marks: traces.marks,
      axis,
    });
  };
  const act = async (way: Way): Promise<void> => {
    const picture = await draw();
    if (picture === null) {
      setSays('No strip has a value here: there is nothing to draw.');
      return;
    }
    const name = `strips-${Math.round(window.fromS)}-${Math.round(window.toS)}`;
    try {
      setSays(await hand(way, picture, name));
    } catch {
      setSays('The browser does not let this page copy: save the picture instead.');
    }
  };
  return (
    <div className={styles.pictures}>
      <span className="soft">Picture of what is shown</span>
      {WAYS.map(([way, label]) => (
        <button key={way} type="button" className="button" onClick={() => void act(way)}>
          {label}
        </button>
      ))}
      <span className="soft" role="status">
        {says}
      </span>
    </div>
  );
}

async function hand(way: Way, picture: TimelinePicture, name: string): Promise<string> {
  if (way === 'copy-svg') {
    await navigator.clipboard.writeText(picture.svg);
    return 'Copied.';
  }
  if (way === 'copy-png') {
    await navigator.clipboard.write([new ClipboardItem({ 'image/png': pngOf(picture) })]);
    return 'Copied.';
  }
  if (way === 'save-svg') save(new Blob([picture.svg], { type: 'image/svg+xml' }), `${name}.svg`);
  else save(await pngOf(picture), `${name}.png`);
  return 'Saved.';
}

function save(file: Blob, name: string): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

async function pngOf({ svg, widthPx, heightPx }: TimelinePicture): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image(widthPx, heightPx);
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = widthPx * PNG_SCALE;
    canvas.height = heightPx * PNG_SCALE;
    const pen = canvas.getContext('2d');
    if (pen === null) throw new Error('no canvas');
    pen.scale(PNG_SCALE, PNG_SCALE);
    pen.drawImage(image, 0, 0, widthPx, heightPx);
    return await new Promise<Blob>((resolve, reject) =>
      canvas.toBlob((blob) => (blob === null ? reject(new Error('no picture')) : resolve(blob))),
    );
  } finally {
    URL.revokeObjectURL(address);
  }
}
