/** The timeline's state in its address: what is shown can be sent to somebody else. */
import type { TimeWindow } from './charts/time-window';
import { clampTime, fitWindow } from './charts/time-window';
import { isKnownPlace, partsOfPlace, STRIP_HEIGHTS } from './strip-places';
import { type AxisKind, SESSION_AXIS } from './timeline-clock';

export type TimelineAddress = Readonly<{
  window: TimeWindow;
  /** Ids of strips, top to bottom. */
  strips: readonly string[];
  /** Heights of strips that are not as high as usual, px. */
  heights: StripHeights;
  selection: TimeWindow | null;
  axis: AxisKind;
  /** Words that are looked for; empty for none. */
  sought: string;
}>;

export type StripHeights = Readonly<Record<string, number>>;

type Asked = Readonly<Record<string, string | readonly string[] | undefined>>;

export type TimelineKnown = Readonly<{
  session: TimeWindow;
  strips: ReadonlySet<string>;
  defaultStrips: readonly string[];
  /** Whether the session declares a mission time. */
  mission: 'declared' | 'none';
}>;

/** Longest text of a search taken from an address. */
export const MOST_SOUGHT_CHARACTERS = 120;

/** Longest list of strips taken from an address: what a screen can show and a server be asked. */
const MOST_STRIPS = 24;

/**
 * Reads `from`, `to`, `strips`, `sel`, `axis`, `find`. What cannot be read or does not exist in this session is
 * left out, so that an old or mistyped address still shows the session.
 */
export function readTimelineAddress(asked: Asked, known: TimelineKnown): TimelineAddress {
  const from = number(one(asked.from));
  const to = number(one(asked.to));
  const window =
    from !== null && to !== null && to > from
      ? fitWindow({ fromS: from, toS: to }, known.session)
      : known.session;
  const list = one(asked.strips);
  const { strips, heights } = readStrips(list, known);
  const sought = (one(asked.find) ?? '').slice(0, MOST_SOUGHT_CHARACTERS);
  const [start, end, more] = (one(asked.sel) ?? '').split('_').map(number);
  const selection =
    start !== undefined &&
    end !== undefined &&
    start !== null &&
    end !== null &&
    more === undefined &&
    end >= start
      ? {
          fromS: Math.max(known.session.fromS, Math.min(known.session.toS, start)),
          toS: Math.max(known.session.fromS, Math.min(known.session.toS, end)),
        }
      : null;
  return { window, strips, heights, selection, axis: readAxis(one(asked.axis), known), sought };
}

/**
 * Strips that an address or an arrangement names and this session does not have.
 *
 * @param list as it stands in an address; null for none
 */
export function unknownStrips(list: string | null, known: TimelineKnown): readonly string[] {
  if (list === null) return [];
  return list
    .split(',')
    .map(decode)
    .flatMap((text) => {
      const id = isKnownPlace(text, known.strips) ? text : text.replace(/~\d{2,3}$/, '');
      return partsOfPlace(id, known.strips).filter((part) => !known.strips.has(part));
    })
    .filter((id, index, all) => id !== '' && all.indexOf(id) === index)
    .slice(0, MOST_STRIPS);
}

/**
 * `range,closing_rate~192,a+b`: strips top to bottom, those that share a place joined, a height behind
 * where it is not the usual one.
 */
function readStrips(
  list: string | null,
  known: TimelineKnown,
): Pick<TimelineAddress, 'strips' | 'heights'> {
  if (list === null) return { strips: known.defaultStrips, heights: {} };
  const places = list
    .split(',')
    .map(decode)
    .map((text) => {
      const sized = isKnownPlace(text, known.strips) ? null : /^(.+)~(\d{2,3})$/.exec(text);
      const asked = Number(sized?.[2] ?? STRIP_HEIGHTS.usual);
      return {
        id: sized?.[1] ?? text,
        heightPx: Math.min(STRIP_HEIGHTS.most, Math.max(STRIP_HEIGHTS.least, asked)),
      };
    });
  const shown = places
    .filter(({ id }) => isKnownPlace(id, known.strips))
    .filter(({ id }, index, all) => all.findIndex((each) => each.id === id) === index)
    .slice(0, MOST_STRIPS);
  const sized = shown.filter(({ heightPx }) => heightPx !== STRIP_HEIGHTS.usual);
  return {
    strips: shown.map(({ id }) => id),
    heights: Object.fromEntries(sized.map(({ id, heightPx }) => [id, heightPx])),
  };
}

function writeStrips({ strips, heights }: Pick<TimelineAddress, 'strips' | 'heights'>): string {
  const places = strips.map((id) => {
    const heightPx = heights[id] ?? STRIP_HEIGHTS.usual;
    return `${encode(id)}${heightPx === STRIP_HEIGHTS.usual ? '' : `~${heightPx}`}`;
  });
  return `strips=${places.map(encodeURIComponent).join(',')}`;
}

/** The part of an address that an arrangement keeps: strips with their heights, and the kind of axis. */
export function writeArrangement(
  address: Pick<TimelineAddress, 'strips' | 'heights' | 'axis'>,
): string {
  const axis = address.axis.kind === 'since' ? 'session' : address.axis.kind;
  return `${writeStrips(address)}${axis === 'session' ? '' : `&axis=${axis}`}`;
}

/** An arrangement as this session can show it: strips that it lacks are left out. */
export function readArrangement(
  query: string,
  known: TimelineKnown,
): Pick<TimelineAddress, 'strips' | 'heights' | 'axis'> {
  const kept = new URLSearchParams(query);
  return {
    ...readStrips(kept.get('strips'), known),
    axis: readAxis(kept.get('axis'), known),
  };
}

/** `utc`, `mission`, `distance`, or `since_977.2`: time from an event at that session time. */
function readAxis(text: string | null, known: TimelineKnown): AxisKind {
  if (text === 'utc' || text === 'distance') return { kind: text };
  if (text === 'mission' && known.mission === 'declared') return { kind: text };
  const event = /^since_(.+)$/.exec(text ?? '')?.[1] ?? null;
  const eventS = number(event);
  return eventS === null
    ? SESSION_AXIS
    : { kind: 'since', eventS: clampTime(known.session, eventS) };
}

function axisWord(axis: AxisKind): string {
  return axis.kind === 'since' ? `since_${short(axis.eventS)}` : axis.kind;
}

/** @returns the query with its question mark; empty for the session as it opens */
export function writeTimelineAddress(address: TimelineAddress, known: TimelineKnown): string {
  const parts: string[] = [];
  const { window, strips, selection } = address;
  if (window.fromS !== known.session.fromS || window.toS !== known.session.toS)
    parts.push(`from=${short(window.fromS)}`, `to=${short(window.toS)}`);
  const isUsual = strips.join('\n') === known.defaultStrips.join('\n');
  const isSized = strips.some((id) => address.heights[id] !== undefined);
  if (!isUsual || isSized) parts.push(writeStrips(address));
  if (selection !== null) parts.push(`sel=${short(selection.fromS)}_${short(selection.toS)}`);
  if (address.axis.kind !== 'session') parts.push(`axis=${axisWord(address.axis)}`);
  if (address.sought !== '') parts.push(`find=${encodeURIComponent(address.sought)}`);
  return parts.length === 0 ? '' : `?${parts.join('&')}`;
}

/** Milliseconds are enough for an address. */
function short(seconds: number): string {
  return `${Math.round(seconds * 1000) / 1000}`;
}

/** A comma inside a channel's name must not part the list. */
function encode(id: string): string {
  return id.replaceAll('%', '%25').replaceAll(',', '%2C');
}

function decode(part: string): string {
  return part.replaceAll(/%2c/gi, ',').replaceAll('%25', '%');
}

function one(value: string | readonly string[] | undefined): string | null {
  if (value === undefined) return null;
  return typeof value === 'string' ? value : (value[0] ?? null);
}

function number(text: string | null): number | null {
  if (text === null || text.trim() === '') return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}

/** What an address may name in this session. */
export function knownOf(
  view: Readonly<{
    session: TimeWindow;
    missionZeroTaiNs: string | null;
    catalogue: Readonly<{
      strips: readonly Readonly<{ id: string }>[];
      defaultIds: readonly string[];
    }>;
  }>,
): TimelineKnown {
  return {
    session: view.session,
    strips: new Set(view.catalogue.strips.map((strip) => strip.id)),
    defaultStrips: view.catalogue.defaultIds,
    mission: view.missionZeroTaiNs === null ? 'none' : 'declared',
  };
}
