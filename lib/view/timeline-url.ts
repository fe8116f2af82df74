/** The timeline's state in its address: what is shown can be sent to somebody else. */
import type { TimeWindow } from './charts/time-window';
import { fitWindow } from './charts/time-window';

export type TimelineAddress = Readonly<{
  window: TimeWindow;
  /** Ids of strips, top to bottom. */
  strips: readonly string[];
  selection: TimeWindow | null;
}>;

type Asked = Readonly<Record<string, string | readonly string[] | undefined>>;

export type TimelineKnown = Readonly<{
  session: TimeWindow;
  strips: ReadonlySet<string>;
  defaultStrips: readonly string[];
}>;

/** Longest list of strips taken from an address: what a screen can show and a server be asked. */
const MOST_STRIPS = 24;

/**
 * Reads `from`, `to`, `strips`, `sel`. What cannot be read or does not exist in this session is
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
  const strips =
    list === null
      ? known.defaultStrips
      : list
          .split(',')
          .map(decode)
          .filter((id, index, all) => known.strips.has(id) && all.indexOf(id) === index)
          .slice(0, MOST_STRIPS);
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
  return { window, strips, selection };
}

/** @returns the query with its question mark; empty for the session as it opens */
export function writeTimelineAddress(address: TimelineAddress, known: TimelineKnown): string {
  const parts: string[] = [];
  const { window, strips, selection } = address;
  if (window.fromS !== known.session.fromS || window.toS !== known.session.toS)
    parts.push(`from=${short(window.fromS)}`, `to=${short(window.toS)}`);
  if (strips.join('\n') !== known.defaultStrips.join('\n'))
    parts.push(`strips=${strips.map((id) => encodeURIComponent(encode(id))).join(',')}`);
  if (selection !== null) parts.push(`sel=${short(selection.fromS)}_${short(selection.toS)}`);
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
  };
}
