/** Closing rate against the plan's profile, range by range, and how far behind its clock. */

import type { DeviationPart } from '../../core/approach/plan-deviation';
import { type Figure, halfWidth95 } from '../../core/figure';
import type { ApproachDeviation } from '../../core/reconstruction/approach-report';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameOfRun } from '../../core/reconstruction/run-name';
import { plannedRateBetween, plannedTolerance } from '../../core/reconstruction/stated-figures';
import { nameFromId } from '../../core/session/name-from-id';
import { formatNumber } from '../../core/units/number-text';
import { type FigureView, figureView, figureViewOrNull, timelineHref } from '../figure-view';

export type DeviationRow = Readonly<{
  key: string;
  /** A ramp or the last metres: set apart, in no mean of the plan's profile. */
  isApart: boolean;
  stretch: string;
  part: string;
  href: string;
  planned: FigureView;
  mean: FigureView;
  deviation: FigureView;
  outside: FigureView;
  /** Whether rows surely were outside where the profile is meant. */
  isOutside: boolean;
  late: FigureView | null;
}>;

export type DeviationGroup = Readonly<{
  key: string;
  name: string;
  /** null where the plan has no such move. */
  tolerance: FigureView | null;
  rows: readonly DeviationRow[];
}>;

const PART_WORDS: Readonly<Record<DeviationPart, string>> = {
  profile: '',
  'speeding-up': 'speeding up',
  braking: 'braking',
  'last-metres': 'last metres',
  'first-metres': 'first metres',
};

/** Both ends in whole metres, in tenths near the port and where they would read alike. */
function stretchText(fromM: number, toM: number): string {
  const text = (rangeM: number, decimals: number) =>
    formatNumber(rangeM, rangeM < 10 ? 1 : decimals);
  const alike = text(fromM, 0) === text(toM, 0);
  return `${text(fromM, alike ? 1 : 0)} to ${text(toM, alike ? 1 : 0)} m`;
}

function row(
  each: ApproachDeviation,
  index: number,
  reconstruction: Reconstruction,
  sessionId: string,
): DeviationRow {
  const stretch = stretchText(each.fromM, each.toM);
  const label = (what: string) => `${nameFromId(each.step)}, ${stretch}, ${what}`;
  const options = (what: string) => ({ sessionId, label: label(what) });
  const { fromS, toS } = each.meanMps.evidence;
  return {
    key: `${each.step}-${index}`,
    isApart: each.part !== 'profile',
    stretch,
    part: PART_WORDS[each.part],
    href: timelineHref(sessionId, fromS ?? 0, toS ?? 0),
    planned: figureView(plannedRateBetween(reconstruction, each), {
      ...options('planned rate'),
      form: 'signed',
    }),
    mean: figureView(each.meanMps, { ...options('closing rate'), form: 'signed' }),
    deviation: figureView(each.deviationMps, { ...options('off the profile'), form: 'signed' }),
    outside: figureView(each.outsideS, options('outside tolerance')),
    isOutside: each.part === 'profile' && isSurelySome(each.outsideS),
    late: figureViewOrNull(each.lateS, { ...options('behind plan'), form: 'signed-duration' }),
  };
}

/** Whether a length is more than its own interval. */
function isSurelySome(length: Figure): boolean {
  return (length.value ?? 0) > (halfWidth95(length) ?? 0);
}

/** One group for each piece of each planned move, in the order flown. */
export function deviationGroups(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly DeviationGroup[] {
  const { approach, phases } = reconstruction;
  const groups = new Map<string, ApproachDeviation[]>();
  for (const each of approach?.deviations ?? []) {
    const key = `${each.step}/${each.piece}`;
    groups.set(key, [...(groups.get(key) ?? []), each]);
  }
  return [...groups].map(([key, all]) => {
    const id = all[0]?.step ?? '';
    const seenS = all[0]?.deviationMps.evidence.toS ?? Number.NaN;
    const run = phases.findLastIndex(
      ({ step, startS }) => step === id && (startS.value ?? Number.NaN) <= seenS,
    );
    return {
      key,
      name: nameOfRun(reconstruction, run),
      tolerance: figureViewOrNull(plannedTolerance(reconstruction, id), {
        sessionId,
        label: `${nameFromId(id)}, tolerance of the rate`,
      }),
      rows: all.map((each, index) => row(each, index, reconstruction, sessionId)),
    };
  });
}
