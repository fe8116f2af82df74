'use client';

import { memo, useEffect, useMemo, useRef } from 'react';
import { StripCanvas } from '@/app/_components/charts/strip-canvas';
import type { PlotBand, PlotMark } from '@/lib/core/debrief/plot';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { readStripAt, stripPlot } from '@/lib/view/charts/strip-plot';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  windowSpanS,
} from '@/lib/view/charts/time-window';
import { clockStretch } from '@/lib/view/timeline-clock';
import { readingText } from '@/lib/view/timeline-readout';
import { nearContactNote, type Strip } from '@/lib/view/timeline-strips';
import type { CursorStore } from './cursor-store';
import { StripHandle } from './strip-handle';
import styles from './timeline.module.css';
import type { ShownAxis } from './use-axis';
import type { EnvelopeState } from './use-envelopes';

export type TraceRowProps = Readonly<{
  strip: Strip;
  answers: readonly EnvelopeAnswer[];
  state: EnvelopeState;
  window: TimeWindow;
  /** Width of the plot without its axis; null until it has been measured. */
  widthPx: number | null;
  timeTickCount: number;
  axis: ShownAxis;
  bands: readonly PlotBand[];
  marks: readonly PlotMark[];
  colours: ChartColours | null;
  cursor: CursorStore;
  takeOff: (id: string) => void;
  heightPx: number;
  resize: (id: string, heightPx: number) => void;
}>;

/** On a longer axis the last metres are a pixel or two, and nothing there is read. */
const NOTE_SPAN_S = 600;

/** One strip of traces: name, values at the cursor, picture; says so where there is nothing. */
export const TraceRow = memo(function TraceRow(props: TraceRowProps) {
  const {
    strip,
    answers,
    state,
    window,
    widthPx,
    heightPx,
    timeTickCount,
    bands,
    marks,
    axis,
    colours,
  } = props;
  const drawn = useMemo(
    () => stripPlot({ strip, window, timeTickCount, answers, bands, marks, axis }),
    [strip, window, timeTickCount, answers, bands, marks, axis],
  );
  const measured = strip.series.filter((series) => series.role === 'measured');
  const absent = measured.every((series) => drawn.missing.includes(series.key));
  const waits = state === 'loading' && !drawn.hasValues;
  const says = waits
    ? 'Reading the samples…'
    : absent && state === 'ready'
      ? `The sample store has no column ${measured.map((series) => series.key).join(', ')}.`
      : drawn.hasValues || state !== 'ready'
        ? null
        : 'No samples in this window.';
  const contactS = marks.find((mark) => mark.tone === 'contact')?.at ?? null;
  const isClose = windowSpanS(window) <= NOTE_SPAN_S;
  const near = isClose ? nearContactNote(strip.id, window, contactS) : null;
  const runs = drawn.area === null ? null : `Grey: ${drawn.area.label}, 5 to 95 %`;
  const notes = [near, runs].filter((note) => note !== null);
  const unit = strip.unit === '' ? '' : `, ${strip.unit}`;
  return (
    <div className={styles.row}>
      <div className={styles.head}>
        <div className={styles.name}>
          {strip.label} <span className={styles.unit}>{strip.unit}</span>
        </div>
        <Readings {...props} />
        {notes.map((note) => (
          <p key={note} className={styles.stripNote} title={note}>
            {note}
          </p>
        ))}
        <button
          type="button"
          className={styles.takeOff}
          onClick={() => props.takeOff(strip.id)}
          aria-label={`Take ${strip.label} off`}
        >
          take off
        </button>
      </div>
      <div className={`${styles.plot} ${styles.tracePlot}`}>
        <StripCanvas
          strip={drawn}
          colours={colours}
          widthPx={widthPx === null ? null : widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
          heightPx={heightPx}
          label={`${strip.label}${unit}, from ${clockStretch(axis.clock, window)}: ${strip.series.map((series) => series.label).join(', ')}${drawn.area === null ? '' : ` ${drawn.area.words}`}. ${drawn.hasValues ? `Axis from ${drawn.plot.y.from} to ${drawn.plot.y.to}.` : 'No samples.'}`}
        />
        {says !== null && <p className={styles.says}>{says}</p>}
        <StripHandle strip={strip} heightPx={heightPx} resize={props.resize} />
      </div>
    </div>
  );
});

/** Values at the cursor, written straight into the page: the strip is not drawn again. */
function Readings({ strip, answers, window, cursor }: TraceRowProps) {
  const list = useRef<HTMLDListElement>(null);
  useEffect(() => {
    const write = (): void => {
      const cells = list.current?.querySelectorAll('dd') ?? [];
      strip.series.forEach((series, index) => {
        const cell = cells[index];
        if (cell === undefined) return;
        const at = { tS: cursor.get(), window, fromSi: strip.fromSi };
        const text = readingText(readStripAt(answers, series, at), strip.decimals);
        if (cell.textContent !== text) cell.textContent = text;
        if (index === 0) cell.dataset.value = text;
      });
    };
    write();
    return cursor.subscribe(write);
  }, [strip, answers, window, cursor]);
  return (
    <dl ref={list} className={styles.readings} data-strip={strip.label} data-unit={strip.unit}>
      {strip.series.map((series, index) => (
        <div key={series.key} className={index === 0 ? styles.firstReading : styles.reading}>
          <dt>{series.label}</dt>
          <dd />
        </div>
      ))}
    </dl>
  );
}
