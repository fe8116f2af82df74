/** The screen of the approach: pictures under one cursor, and the tables behind them. */
import { leadsAway } from '../../core/phases/match-steps';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { formatNumber } from '../../core/units/number-text';
import type { Sentence } from '../sentence';
import { type ApproachTrack, nearPart } from './approach-track';
import { axisPicture } from './axis-picture';
import { type DeviationGroup, deviationGroups } from './deviation-rows';
import type { MomentView } from './moment';
import { corridorAlong, momentView } from './moment-readings';
import type { Picture } from './picture';
import { PLANES, planePicture } from './plane-picture';
import { ratePicture } from './rate-picture';
import { clearanceSentence, type StationRow, stationRows } from './station-rows';

/** A link to the pictures of what is nearer than a distance. */
export type NearChoice = Readonly<{ text: string; nearM: number | null; isChosen: boolean }>;

export type ApproachView = Readonly<{
  sessionId: string;
  pictures: readonly Picture[];
  /** Why a picture is not there, in sentences. */
  absent: readonly string[];
  moment: MomentView;
  nearM: number | null;
  near: readonly NearChoice[];
  stations: readonly StationRow[];
  /** How near the corridor came, in a sentence; empty where no rule bounds it. */
  clearance: Sentence;
  deviations: readonly DeviationGroup[];
  /** Which way the plan leads, which the words of the tables follow. */
  lead: 'inwards' | 'away';
  /** Radius of the corridor at each part on the scale of the picture along the axis, px. */
  rings: readonly (number | null)[];
}>;

const LAST_M = 10;

/** `near` of an address, m; null where it is absent or no positive number. */
export function readNear(asked: string | readonly string[] | undefined): number | null {
  const value = Number(typeof asked === 'string' ? asked : (asked?.[0] ?? ''));
  return Number.isFinite(value) && value > 0 ? value : null;
}

/** The whole, what lies inside each planned hold, and the last metres. */
function nearChoices({ plan }: Reconstruction, nearM: number | null): readonly NearChoice[] {
  const steps = plan?.steps ?? [];
  // What lies inside the farthest hold is the whole.
  const farthest = leadsAway(plan) ? steps.length - 1 : 0;
  const holds = steps.flatMap((step, index) =>
    step.kind === 'hold' && index !== farthest ? [Math.round(step.holdM + step.toleranceM)] : [],
  );
  const isByHold = holds.some((m) => Math.abs(m - LAST_M) < LAST_M / 4);
  const all = [...new Set([...holds, ...(isByHold ? [] : [LAST_M])])].sort((a, b) => b - a);
  return [
    {
      text: leadsAway(plan) ? 'Whole departure' : 'Whole approach',
      nearM: null,
      isChosen: nearM === null,
    },
    ...all.map((m) => ({
      text: `${leadsAway(plan) ? 'First' : 'Last'} ${formatNumber(m, 0)} m`,
      nearM: m,
      isChosen: nearM === m,
    })),
  ];
}

/** Phases that end inside what is drawn: their marks have a place. */
function nearOnly(reconstruction: Reconstruction, nearM: number | null): Reconstruction {
  if (nearM === null) return reconstruction;
  const phases = reconstruction.phases.filter(
    ({ rangeStartM, rangeEndM }) =>
      Math.min(rangeStartM.value ?? Infinity, rangeEndM.value ?? Infinity) <= nearM,
  );
  return { ...reconstruction, phases };
}

/**
 * @param track the evaluated stretch in equal parts; null where it could not be read
 * @param nearM draw only what is nearer than this, m
 */
export function approachView(
  reconstruction: Reconstruction,
  track: ApproachTrack,
  about: Readonly<{ sessionId: string; nearM: number | null }>,
): ApproachView {
  const { sessionId, nearM } = about;
  const shown = nearPart(track, nearM);
  const drawn = nearOnly(reconstruction, nearM);
  const planes = PLANES.map((plane) => planePicture(drawn, shown, plane));
  const along = axisPicture(reconstruction, shown);
  const rate = ratePicture(reconstruction, shown);
  const pictures = [...planes, along, rate].filter((picture) => picture !== null);
  const stations = stationRows(reconstruction, sessionId);
  const perMetre = along === null ? 0 : (along.plot.right - along.plot.left) / along.spanM;
  return {
    sessionId,
    pictures,
    absent: [
      ...(along === null
        ? [
            'No position across the docking axis was estimated: nothing is drawn from the side, from above and along it.',
          ]
        : []),
      ...(rate === null ? ['No closing rate was estimated.'] : []),
    ],
    moment: momentView(reconstruction, track),
    nearM,
    near: nearChoices(reconstruction, nearM),
    stations,
    clearance: clearanceSentence(stations),
    deviations: deviationGroups(reconstruction, sessionId),
    lead: leadsAway(reconstruction.plan) ? 'away' : 'inwards',
    rings: Array.from(corridorAlong(reconstruction, track), (radiusM) =>
      Number.isFinite(radiusM) && along !== null ? Math.round(radiusM * perMetre * 10) / 10 : null,
    ),
  };
}
