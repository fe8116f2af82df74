/** What a newer reconstruction lists and the one before does not, or the other way round, in words. */
import { figureText } from '../core/debrief/figure-text';
import type { Place } from '../core/reconstruction/changed-figures';
import { FAULT_WORDS } from '../core/reconstruction/kind-words';
import type { Exceedance, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { nameFromId } from '../core/session/name-from-id';
import { plural } from './format-number';
import { formatStretch } from './format-time';

/** One phase, exceedance, callout, fault or log entry. */
export type PlaceRow = Readonly<{ key: string; what: string; detail: string; when: string }>;

export type PlacesView = Readonly<{
  rows: readonly PlaceRow[];
  /** Said of those that are not listed. */
  more: string | null;
}>;

/** A log read anew may hold thousands of entries that the one before had not. */
const MOST_ROWS = 100;

type Words = Readonly<{ what: string; detail: string; fromS: number; toS: number }>;

function exceedanceWords({ rule, startS, endS, worst, limit, unit }: Exceedance): Words {
  const options = { unit, uncertainty: 'without' as const };
  return {
    what: `Exceedance of ${nameFromId(rule)}`,
    detail: `worst ${figureText(worst, options)}, limit ${figureText(limit, options)}`,
    fromS: startS.value ?? Number.NaN,
    toS: endS.value ?? Number.NaN,
  };
}

function wordsOf({ kind, index }: Place, of: Reconstruction): Words | null {
  switch (kind) {
    case 'phases': {
      const phase = of.phases[index];
      if (phase === undefined) return null;
      const [fromS, toS] = [phase.startS.value ?? Number.NaN, phase.endS.value ?? Number.NaN];
      return { what: `Phase ${nameOfRun(of, index)}`, detail: '', fromS, toS };
    }
    case 'exceedances': {
      const exceedance = of.exceedances[index];
      return exceedance === undefined ? null : exceedanceWords(exceedance);
    }
    case 'callouts': {
      const callout = of.callouts[index];
      if (callout === undefined) return null;
      const { source, line, text, timeS } = callout;
      return { what: `Callout, ${source} line ${line}`, detail: text, fromS: timeS, toS: timeS };
    }
    case 'data_quality': {
      const fault = of.dataQuality[index];
      if (fault === undefined) return null;
      const where = fault.channel === null ? fault.source : `${fault.source}, ${fault.channel}`;
      const what = `Data fault: ${FAULT_WORDS[fault.kind]}`;
      return { what, detail: where, fromS: fault.startS, toS: fault.endS };
    }
    case 'events': {
      const entry = of.events[index];
      if (entry === undefined) return null;
      const { source, line, timeS } = entry;
      const detail = [entry.event, entry.text].filter((part) => part !== null).join(': ');
      return { what: `Log entry, ${source} line ${line}`, detail, fromS: timeS, toS: timeS };
    }
  }
}

/**
 * What appeared or is gone, as rows of a table.
 *
 * @param places by their places in `of`
 */
export function placesView(places: readonly Place[], of: Reconstruction): PlacesView {
  const rows = places.slice(0, MOST_ROWS).flatMap((place): PlaceRow[] => {
    const words = wordsOf(place, of);
    if (words === null) return [];
    const { what, detail, fromS, toS } = words;
    return [{ key: `${place.kind}-${place.index}`, what, detail, when: formatStretch(fromS, toS) }];
  });
  const left = places.length - MOST_ROWS;
  return { rows, more: left > 0 ? `${plural(left, 'more is', 'more are')} not listed.` : null };
}
