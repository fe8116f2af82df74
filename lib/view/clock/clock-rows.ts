/** The table behind the clock's drawing. */
import { formatNumber, formatSigned } from '../../core/units/number-text';
import { type FigureView, figureView, timelineHref } from '../figure-view';
import { formatSessionTime } from '../format-time';
import type { ClockItem, ItemState } from './clock-items';

/** A spoken value by its place, as a correction names it. */
export type SpokenAt = Readonly<{ line: number; nth: number }>;

export type ClockRow = Readonly<{
  key: string;
  words: string;
  sourceTime: string;
  sessionTime: string;
  href: string;
  said: string;
  telemetry: FigureView | null;
  difference: FigureView | null;
  residual: string;
  residualBefore: string;
  sd: string;
  weight: string;
  state: ItemState;
  reason: string;
  /** null for what is no spoken value and cannot be judged. */
  place: SpokenAt | null;
  kind: ClockItem['kind'];
}>;

type Named = Readonly<{ file: string; sessionId: string }>;

export function clockRow(item: ClockItem, { file, sessionId }: Named): ClockRow {
  const { callout, tie, kind } = item;
  const label = callout === null ? '' : `${file}, line ${callout.line}`;
  const named = (what: string) => ({ sessionId, label: `${label}, ${what}` });
  return {
    key: item.key,
    words: item.words,
    sourceTime: formatSessionTime(item.sourceS),
    sessionTime: formatSessionTime(item.sessionS),
    href: timelineHref(sessionId, item.sessionS, item.sessionS),
    said: saidText(item),
    telemetry: callout === null ? null : figureView(callout.telemetry, named('telemetry')),
    difference:
      callout === null
        ? null
        : figureView(callout.difference, { ...named('difference'), form: 'signed' }),
    residual: secondsText(tie?.residualS),
    residualBefore: secondsText(tie?.residualBeforeS),
    sd: tie === null || tie.sdS === null ? '' : formatNumber(tie.sdS, 2),
    weight: tie === null || tie.weight === 0 ? '' : `${formatNumber(tie.weight * 100, 1)} %`,
    state: item.state,
    reason: item.reason,
    place: callout === null ? null : { line: callout.line, nth: callout.nth },
    kind,
  };
}

/** As many digits as were said: a spoken 140 m is not 140.00 m. */
function saidText({ callout }: ClockItem): string {
  if (callout === null || callout.said.value === null) return '';
  const digits = formatNumber(callout.said.value, 3).replace(/\.?0+$/, '');
  return `${digits} ${callout.said.unit}`;
}

function secondsText(residualS: number | null | undefined): string {
  return residualS === null || residualS === undefined ? '' : formatSigned(residualS, 2);
}
