/** Faults of a file as rows and as counts, for the screens that list them. */
import { FAULT_WORDS } from '../core/reconstruction/kind-words';
import type { DataFault, FaultKind } from '../core/reconstruction/reconstruction';
import { timelineHref } from './figure-view';
import { plural } from './format-number';
import { formatSessionTime, formatStretch } from './format-time';

/** Rows that a panel lists before it says how many more there are. */
export const FAULTS_IN_A_PANEL = 8;
/** Rows of one page of the whole list. */
export const FAULTS_A_PAGE = 100;

export type FaultRow = Readonly<{
  key: string;
  kind: string;
  channel: string;
  when: string;
  href: string;
  note: string;
}>;

/** One of a kind and several, as they are counted. */
const COUNTED: Readonly<Record<FaultKind, readonly [one: string, many: string]>> = {
  gap: ['gap', 'gaps'],
  frozen: ['frozen stretch', 'frozen stretches'],
  saturated: ['saturated stretch', 'saturated stretches'],
  spike: ['spike', 'spikes'],
  step: ['jump', 'jumps'],
  duplicate: ['repeated stamp', 'repeated stamps'],
  out_of_order: ['stamp out of order', 'stamps out of order'],
  held: ['stretch of held values', 'stretches of held values'],
  left_out: ['stretch left out by hand', 'stretches left out by hand'],
  rate_disagrees: [
    'stretch of a rate that disagrees with position',
    'stretches of a rate that disagrees with position',
  ],
};

/** `3 gaps`, `1 frozen stretch`. */
export function countedFaults(kind: FaultKind, count: number): string {
  return plural(count, ...COUNTED[kind]);
}

/** Every kind among faults with its count, the most frequent first: `111 gaps, 9 repeated stamps`. */
export function faultCounts(faults: readonly DataFault[]): string {
  const counts = new Map<FaultKind, number>();
  for (const { kind } of faults) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts]
    .sort(([, a], [, b]) => b - a)
    .map(([kind, count]) => countedFaults(kind, count))
    .join(', ');
}

/** One fault as a row; `index` is its place among all faults of its file. */
export function faultRow(fault: DataFault, index: number, sessionId: string): FaultRow {
  const { kind, channel, startS, endS, note } = fault;
  return {
    key: `${kind}-${index}`,
    kind: FAULT_WORDS[kind],
    channel: channel ?? 'whole source',
    when: startS === endS ? formatSessionTime(startS) : formatStretch(startS, endS),
    href: timelineHref(sessionId, startS, endS),
    note,
  };
}
