'use client';

import { memo, useMemo } from 'react';
import { StripCanvas } from '@/app/_components/charts/strip-canvas';
import type { PlotBand, PlotMark } from '@/lib/core/debrief/plot';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { type StripPlot, stripPlot } from '@/lib/view/charts/strip-plot';
import { samplesBeside } from '@/lib/view/charts/strip-reading';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  windowSpanS,
} from '@/lib/view/charts/time-window';
import { nearContactNote } from '@/lib/view/strip-words';
import { clockStretch } from '@/lib/view/timeline-clock';
import { noSamplesText } from '@/lib/view/timeline-readout';
import type { Strip } from '@/lib/view/timeline-strips';
import type { CursorStore } from './cursor-store';
import type { EnvelopeState } from './envelope-reader';
import type { RatesStore } from './rates-store';
import { Readings } from './readings';
import { StripHandle } from './strip-handle';
import styles from './timeline.module.css';
import type { ShownAxis } from './use-axis';

export type TraceRowProps = Readonly<{
  strip: Strip;
  answers: readonly EnvelopeAnswer[];
  /** Whether the answers are still on their way. */
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
  rates: RatesStore;
  takeOff: (id: string) => void;
  heightPx: number;
  resize: (id: string, heightPx: number) => void;
}>;

/** On a longer axis the last metres are a pixel or two, and nothing there is read. */
const NOTE_SPAN_S = 600;

/** One strip of traces: name, values at the cursor, picture; says so where there is nothing. */
export const TraceRow = memo(function TraceRow(props: TraceRowProps) {
  const { strip, answers, window, widthPx, heightPx, timeTickCount, bands, marks, axis, colours } =
    props;
  const drawn = useMemo(
    () => stripPlot({ strip, window, timeTickCount, answers, bands, marks, axis }),
    [strip, window, timeTickCount, answers, bands, marks, axis],
  );
  const says = drawn.hasValues ? null : absence({ ...props, drawn });
  const contactS = marks.find((mark) => mark.tone === 'contact')?.at ?? null;
  const isClose = windowSpanS(window) <= NOTE_SPAN_S;
  const near = isClose ? nearContactNote(strip.id, window, contactS) : null;
  const runs = drawn.area === null ? null : `Grey: ${drawn.area.label}, 5 to 95 %`;
  const notes = [near, runs, strip.limitNote ?? null].filter((note) => note !== null);
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
        <div className={styles.picture}>
          <StripCanvas
            strip={drawn}
            colours={colours}
            widthPx={widthPx === null ? null : widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
            heightPx={heightPx}
            label={`${strip.label}${unit}, from ${clockStretch(axis.clock, window)}: ${strip.series.map((series) => series.label).join(', ')}${drawn.area === null ? '' : ` ${drawn.area.words}`}. ${drawn.hasValues ? `Axis from ${drawn.plot.y.from} to ${drawn.plot.y.to}.` : 'No samples.'}`}
          />
          {says !== null && (
            <p className={styles.says}>
              <span>{says}</span>
            </p>
          )}
        </div>
        <StripHandle strip={strip} heightPx={heightPx} resize={props.resize} />
      </div>
    </div>
  );
});

/** Why a strip shows nothing that was measured. */
function absence(of: TraceRowProps & Readonly<{ drawn: StripPlot }>): string {
  const { strip, drawn, state, answers, window, axis } = of;
  if (drawn.grain === 'coarse') {
    if (state === 'no-answer') return 'Not read yet: the server does not answer.';
    return state === 'gone' ? 'Its samples are no longer kept.' : 'Reading the samples…';
  }
  const measured = strip.series.filter((series) => series.role === 'measured');
  const keys = measured.map((series) => series.key);
  const isAbsent = keys.every((key) => drawn.missing.includes(key));
  if (isAbsent) return `The sample store has no column ${keys.join(', ')}.`;
  return noSamplesText(samplesBeside(answers, keys, window), axis.clock);
}
