/** Entry into and exit from the plan's zones, as figures. */
import { type ZoneExcess, zoneExcess } from '../approach/zone-excess';
import type { Figure } from '../figure';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { exceedanceHalves } from '../rules/margin-interval';
import { type Beyond, stretchesBeyond } from '../rules/margins';
import type { RoomOverTime } from '../rules/room-over-time';
import { type Zone, zoneWords } from '../session/zone';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import type { ZonePass, ZoneReport } from './zone-report';

const CROSSING_METHOD =
  'Interpolated crossing of the boundary of the zone by the estimated position; the interval is the time it stays within its own noise of the boundary (of a crossing in a gap, to the further side of the gap).';
const INSIDE_METHOD = 'Time inside the zone, from boundary to boundary; a gap inside it counts.';

/** The excess as a margin's room, which is below 0 inside: one piece, since a gap ends no stay. */
function roomOf({ tS, excessM, sdM }: ZoneExcess, motion: MotionEstimate): RoomOverTime {
  const whole = [{ from: 0, to: tS.length }];
  return {
    quantity: {
      tS,
      value: excessM,
      sd: sdM,
      noise: 'estimated',
      unit: 'm',
      stretches: whole,
      spanS: motion.positionSpanS,
      systematic: null,
      channels: motion.channels,
      method: motion.positionMethod,
    },
    line: { tS, room: excessM, pieces: whole },
    roomSd: sdM,
    stepS: motion.stepS,
  };
}

/** The largest sd-sized share of an excess between two times, signed as `sense`: how well it stands out. */
function standsOut({ tS, excessM, sdM }: ZoneExcess, sense: 1 | -1, fromS: number, toS: number) {
  for (let row = lowerBound(tS, fromS); row < tS.length && (tS[row] ?? toS) <= toS; row++)
    if (sense * (excessM[row] ?? 0) > NORMAL_95 * (sdM[row] ?? 0)) return true;
  return false;
}

/** Stays that noise alone parts are one, and one that noise alone makes is none. */
function toldFromNoise(excess: ZoneExcess, found: readonly Beyond[]): readonly Beyond[] {
  const joined: Beyond[] = [];
  for (const stay of found) {
    const before = joined.at(-1);
    if (before === undefined || standsOut(excess, 1, before.endS, stay.startS)) joined.push(stay);
    else joined[joined.length - 1] = { ...before, endS: stay.endS };
  }
  return joined.filter(({ startS, endS }) => standsOut(excess, -1, startS, endS));
}

/** From a crossing inside a gap to the gap's further side, s; 0 for one between neighbouring rows. */
function gapHalfS(motion: MotionEstimate, atS: number): number {
  for (const { from } of motion.stretches.slice(1)) {
    const [beforeS, afterS] = [motion.tS[from - 1] ?? atS, motion.tS[from] ?? atS];
    if (beforeS < atS && atS < afterS) return Math.max(atS - beforeS, afterS - atS);
  }
  return 0;
}

function passOf(stay: Beyond, room: RoomOverTime, { motion, origin }: SessionMotion): ZonePass {
  const { startS, endS } = stay;
  const { tS } = room.line;
  const halves = exceedanceHalves(room)(stay);
  const startHalfS = Math.max(halves.startHalfS, gapHalfS(motion, startS));
  const endHalfS = Math.max(halves.endHalfS, gapHalfS(motion, endS));
  const seconds = (value: number, random: number, method: string): Figure =>
    figureOf(origin, { value, unit: 's', random, method, fromS: startS, toS: endS });
  const [isSeenIn, isSeenOut] = [startS > (tS[0] ?? startS), endS < (tS.at(-1) ?? endS)];
  const half = Math.hypot(isSeenIn ? startHalfS : 0, isSeenOut ? endHalfS : 0);
  return {
    fromS: startS,
    toS: endS,
    enterS: isSeenIn ? seconds(startS, startHalfS, CROSSING_METHOD) : null,
    leaveS: isSeenOut ? seconds(endS, endHalfS, CROSSING_METHOD) : null,
    insideS: seconds(endS - startS, half, INSIDE_METHOD),
  };
}

function zoneReport(zone: Zone, session: SessionMotion | null): ZoneReport {
  const named = { id: zone.id, title: zone.title, shape: zoneWords(zone) };
  const unknown = (notKnown: string) => ({ ...named, passes: [], insideS: null, notKnown });
  if (session === null) return unknown('no motion was estimated');
  const { motion, origin } = session;
  const excess = zoneExcess(motion, zone);
  if (excess.tS.length < 2) return unknown('the components of the position are not measured');
  const room = roomOf(excess, motion);
  const stays = toldFromNoise(excess, stretchesBeyond(room.line, 0));
  const passes = stays.map((stay) => passOf(stay, room, session));
  const halves = passes.map(({ insideS }) => insideS.uncertainty?.random ?? 0);
  const insideS = figureOf(origin, {
    value: passes.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0),
    unit: 's',
    random: Math.hypot(...halves),
    method: `${INSIDE_METHOD} All stays added up.`,
    fromS: excess.tS[0] ?? null,
    toS: excess.tS.at(-1) ?? null,
  });
  return { ...named, passes, insideS };
}

/**
 * When the chaser entered and left each zone, over all rows of the estimated motion.
 *
 * Both directions are found, in time order, by straight lines between rows. Stays parted by less than 95 %
 * noise are one, and one no deeper than that is none (our own choices). A gap ends no stay.
 *
 * @param session the motion; null where none was estimated, and the zones are then not known
 * @returns one report a zone, in the order declared; without a crossing its passes are empty
 */
export function zoneFigures(
  zones: readonly Zone[],
  session: SessionMotion | null,
): readonly ZoneReport[] {
  return zones.map((zone) => zoneReport(zone, session));
}
