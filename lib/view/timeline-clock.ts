/** How the timeline writes an instant: on session time, UTC, mission time, from an event, by distance. */
import type { PlotTick } from '../core/debrief/plot';
import { timeTicks } from '../core/debrief/plot-axis';
import { formatInstant } from '../core/time/format';
import { formatNumber } from '../core/units/number-text';
import type { TimeWindow } from './charts/time-window';
import { formatSessionTime } from './format-time';
import { fieldTime, parseSessionTime } from './timeline-readout';

export type AxisKind =
  | Readonly<{ kind: 'session' | 'utc' | 'mission' | 'distance' }>
  | Readonly<{ kind: 'since'; eventS: number }>;

/** What the clocks of a session are made from. */
export type ClockPlace = Readonly<{
  session: TimeWindow;
  zeroTaiNs: string;
  /** What mission time counts from, integer TAI nanoseconds; null where the session declares none. */
  missionZeroTaiNs: string | null;
  contactS: number | null;
  log: readonly Readonly<{ tS: number; text: string }>[];
}>;

/** Every read-out of the timeline is written by one of these. */
export type TimelineClock = Readonly<{
  axis: AxisKind;
  /** `session time`, `UTC`, `time from contact`. */
  name: string;
  text: (tS: number, decimals?: number) => string;
  /** As it stands in a field that can be typed into; `parse` reads it back. */
  fieldText: (tS: number) => string;
  /** Unmarked text as this clock writes it; null where it is none. */
  parse: (text: string) => number | null;
  ticks: (window: TimeWindow, count: number) => readonly PlotTick[];
}>;

/** Range at an instant, m; null where none is known. */
export type RangeAt = (tS: number) => number | null;

export const SESSION_AXIS: AxisKind = { kind: 'session' };

const NS = 1e9;
/** Two texts of an address or a log mean the same instant within this. */
const SAME_INSTANT_S = 0.002;

export function sameAxis(a: AxisKind, b: AxisKind): boolean {
  return a.kind === b.kind && (a.kind !== 'since' || (b.kind === 'since' && a.eventS === b.eventS));
}

/** Which axes a session offers; a chosen event stands beside them. */
export function axisChoices(place: ClockPlace): readonly AxisKind[] {
  const { contactS } = place;
  return [
    SESSION_AXIS,
    { kind: 'utc' },
    ...(place.missionZeroTaiNs === null ? [] : [{ kind: 'mission' } as const]),
    ...(contactS === null ? [] : [{ kind: 'since', eventS: contactS } as const]),
    { kind: 'distance' },
  ];
}

/** `Session time`, `UTC`, `Time from contact`, as a choice. */
export function axisWords(axis: AxisKind, place: ClockPlace): string {
  if (axis.kind === 'utc') return 'UTC';
  if (axis.kind === 'mission') return 'Mission time';
  if (axis.kind === 'distance') return 'Distance';
  return axis.kind === 'since' ? `Time from ${eventWords(axis.eventS, place)}` : 'Session time';
}

const MOST_EVENT_CHARACTERS = 34;

function eventWords(eventS: number, { contactS, log }: ClockPlace): string {
  const isThere = (tS: number): boolean => Math.abs(tS - eventS) < SAME_INSTANT_S;
  if (contactS !== null && isThere(contactS)) return 'contact';
  const text = log.find((mark) => isThere(mark.tS))?.text ?? formatSessionTime(eventS);
  return text.length > MOST_EVENT_CHARACTERS
    ? `${text.slice(0, MOST_EVENT_CHARACTERS - 1)}…`
    : text;
}

/**
 * The clock of an axis.
 *
 * @param rangeAt for distance: an instant is then called by how far out the vehicle was; where that is
 *   not known, and in fields, by its session time
 */
export function timelineClock(
  axis: AxisKind,
  place: ClockPlace,
  rangeAt: RangeAt = () => null,
): TimelineClock {
  const words = axisWords(axis, place);
  const name = axis.kind === 'utc' ? words : words.charAt(0).toLowerCase() + words.slice(1);
  if (axis.kind === 'utc') return { axis, name, ...utcWays(place) };
  if (axis.kind === 'mission' && place.missionZeroTaiNs !== null) {
    const fromS = Number(BigInt(place.missionZeroTaiNs) - BigInt(place.zeroTaiNs)) / NS;
    return { axis, name, ...shiftedWays(fromS) };
  }
  if (axis.kind === 'since') return { axis, name, ...shiftedWays(axis.eventS) };
  const session = { axis, name, ...shiftedWays(0) };
  if (axis.kind !== 'distance') return session;
  return {
    ...session,
    text: (tS, decimals) => distanceText(rangeAt(tS)) ?? session.text(tS, decimals),
  };
}

function distanceText(rangeM: number | null): string | null {
  return rangeM === null ? null : `${formatNumber(rangeM, rangeM < 20 ? 2 : 1)} m`;
}

type Ways = Omit<TimelineClock, 'axis' | 'name'>;

/** A clock that counts seconds from another instant. */
function shiftedWays(fromS: number): Ways {
  return {
    text: (tS, decimals = 1) => formatSessionTime(tS - fromS, decimals),
    fieldText: (tS) => fieldTime(tS - fromS),
    parse: (text) => {
      const read = parseSessionTime(text);
      return read === null ? null : read + fromS;
    },
    ticks: (window, count) => shiftedTicks(window, count, fromS),
  };
}

function shiftedTicks(window: TimeWindow, count: number, fromS: number): readonly PlotTick[] {
  return timeTicks(window.fromS - fromS, window.toS - fromS, count).map(({ at, text }) => {
    return { at: at + fromS, text };
  });
}

/** Clock times of UTC, with their day where the session lies on more than one. */
function utcWays(place: ClockPlace): Ways {
  const zero = BigInt(place.zeroTaiNs);
  const stamp = (tS: number, decimals: number): string =>
    formatInstant({ taiNs: zero + BigInt(Math.round(tS * NS)) }, 'UTC', { decimals }).replace(
      'Z',
      '',
    );
  const isOneDay =
    stamp(place.session.fromS, 0).slice(0, 10) === stamp(place.session.toS, 0).slice(0, 10);
  const text = (tS: number, decimals = 1): string => {
    const [day = '', clock = ''] = stamp(tS, decimals).split('T');
    return isOneDay ? clock : `${day} ${clock}`;
  };
  // Midnight before the zero: a tick at a round clock time stands at a round distance from it.
  const [hours = 0, minutes = 0, seconds = 0] = stamp(0, 3).slice(11).split(':').map(Number);
  const midnightS = -(hours * 3600 + minutes * 60 + seconds);
  return {
    text,
    fieldText: (tS) => `${text(tS, 3).replace(/(\.\d+?)0+$/, '$1')} UTC`,
    parse: () => null,
    ticks: (window, count) =>
      shiftedTicks(window, count, midnightS).map((tick) => {
        const decimals = /\.(\d+)$/.exec(tick.text)?.[1]?.length ?? 0;
        const clock = stamp(tick.at, decimals).slice(11);
        return { at: tick.at, text: tick.text.split(':').length === 2 ? clock.slice(0, 5) : clock };
      }),
  };
}

/** Two instants as one stretch, on the clock of the axis. */
export function clockStretch(clock: TimelineClock, { fromS, toS }: TimeWindow): string {
  return fromS === toS ? clock.text(fromS) : `${clock.text(fromS)} to ${clock.text(toS)}`;
}

/** What the texts of the axis are, so that 00:10 is not taken for ten seconds. */
export function clockAxisName(clock: TimelineClock, window: TimeWindow, count: number): string {
  if (clock.axis.kind === 'distance') return 'distance, m';
  const parts = clock.ticks(window, count).map((tick) => tick.text.split(':').length);
  return `${clock.name}, ${Math.max(2, ...parts) === 2 ? 'hh:mm' : 'hh:mm:ss'}`;
}
