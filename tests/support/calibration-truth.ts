/** The figures of a simulated approach from its noise-free motion, by plain dense evaluation. */
import type { MoveStep } from '@/lib/core/session/plan';
import type { CalibrationFlight } from './calibration-flight';

export type TrueFigures = ReadonlyMap<string, number>;

const GRID_S = 0.05;

type Dense = Readonly<{ tS: number[]; rangeM: number[]; closingMps: number[] }>;

function rangeAndRate(flight: CalibrationFlight, atS: number): Readonly<{ r: number; c: number }> {
  const s = flight.truthAt(atS);
  const r = Math.hypot(s.x, s.y, s.z);
  return { r, c: -(s.x * s.vx + s.y * s.vy + s.z * s.vz) / r };
}

function dense(flight: CalibrationFlight, toS: number): Dense {
  const out: Dense = { tS: [], rangeM: [], closingMps: [] };
  for (let k = 0; k * GRID_S <= toS; k++) {
    const { r, c } = rangeAndRate(flight, k * GRID_S);
    out.tS.push(k * GRID_S);
    out.rangeM.push(r);
    out.closingMps.push(c);
  }
  return out;
}

/** Where a function changes sign between two times, to a microsecond. */
function bisect(f: (atS: number) => number, lowS: number, highS: number): number {
  let low = lowS;
  let high = highS;
  const below = f(low) < 0;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (f(middle) < 0 === below) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function crossings(flight: CalibrationFlight, grid: Dense, levelMps: number): number[] {
  const found: number[] = [];
  const off = (atS: number): number => rangeAndRate(flight, atS).c - levelMps;
  for (let i = 1; i < grid.tS.length; i++) {
    const [a, b] = [grid.closingMps[i - 1] ?? 0, grid.closingMps[i] ?? 0];
    if (a < levelMps !== b < levelMps) {
      found.push(bisect(off, grid.tS[i - 1] ?? 0, grid.tS[i] ?? 0));
    }
  }
  return found;
}

/** min over t of max over [t, t + persists] of the room, on the grid. */
function bruteMargin(room: readonly number[], persistsS: number): number {
  const width = Math.round(persistsS / GRID_S);
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i + width < room.length; i++) {
    let most = Number.NEGATIVE_INFINITY;
    for (let k = i; k <= i + width; k++) most = Math.max(most, room[k] ?? most);
    best = Math.min(best, most);
  }
  return best;
}

function addDeviation(
  into: Map<string, number>,
  flight: CalibrationFlight,
  grid: Dense,
  piece: Readonly<{ name: string; step: MoveStep; fromS: number; toS: number }>,
): void {
  const plannedMps = piece.step.closingRateMps[0]?.[1] ?? 0;
  const rampM = plannedMps ** 2 / (2 * flight.plan.accelerationMps2);
  const highM = rangeAndRate(flight, piece.fromS).r - rampM;
  const lowM = Math.max(3, rangeAndRate(flight, piece.toS).r + rampM);
  let count = 0;
  let mean = 0;
  let square = 0;
  let peak = 0;
  for (let i = 0; i < grid.tS.length; i++) {
    const [atS, r] = [grid.tS[i] ?? 0, grid.rangeM[i] ?? 0];
    if (atS < piece.fromS || atS > piece.toS || r > highM || r < lowM) continue;
    const off = (grid.closingMps[i] ?? 0) - plannedMps;
    count += 1;
    mean += off;
    square += off * off;
    if (Math.abs(off) > Math.abs(peak)) peak = off;
  }
  into.set(`${piece.name} mean`, mean / count);
  into.set(`${piece.name} rms`, Math.sqrt(square / count));
  into.set(`${piece.name} peak`, peak);
}

/**
 * Edges, margins, exceedance, contact and deviations of the noise-free flight. `null` where the drawn
 * motion has not the four phases (the threshold is crossed more than three times).
 */
export function trueFigures(flight: CalibrationFlight): TrueFigures | null {
  const contactS = bisect((atS) => flight.truthAt(atS).x, flight.lastRowS, flight.lastRowS + 2);
  const grid = dense(flight, contactS);
  const out = new Map<string, number>();
  // Within the last metres the swings across turn the line of sight: short runs there join the approach.
  const edges = crossings(flight, grid, flight.plan.holdRateMps).filter(
    (edgeS) => flight.truthAt(edgeS).x > 3,
  );
  if (edges.length !== 3) return null;
  const edge = (i: number): number => edges[i] ?? 0;
  for (const i of [0, 1, 2]) {
    out.set(`edge ${i + 1}`, edge(i));
    out.set(`range at edge ${i + 1}`, rangeAndRate(flight, edge(i)).r);
  }
  const wayM = rangeAndRate(flight, edge(0)).r - rangeAndRate(flight, edge(1)).r;
  out.set('mean closing rate', wayM / (edge(1) - edge(0)));
  const [rate, cone] = flight.rules;
  const limitMps = rate.limit.kind === 'constant' ? rate.limit.value : 0;
  const room = grid.closingMps.map((c) => limitMps - c);
  out.set('rate margin', bruteMargin(room, rate.persistsS));
  out.set('rate instant margin', Math.min(...room));
  if (cone.limit.kind === 'cone') {
    const { halfAngleRad, floorM } = cone.limit;
    const coneRoom = grid.tS.map((atS) => {
      const s = flight.truthAt(atS);
      return Math.max(floorM, s.x * Math.tan(halfAngleRad)) - Math.hypot(s.y, s.z);
    });
    out.set('cone margin', Math.min(...coneRoom));
  }
  const beyond = crossings(flight, grid, limitMps);
  if (beyond.length === 2 && (beyond[1] ?? 0) - (beyond[0] ?? 0) > rate.persistsS + 1) {
    out.set('exceedance start', beyond[0] ?? 0);
    out.set('exceedance end', beyond[1] ?? 0);
    out.set('exceedance worst', limitMps - Math.min(...room));
  }
  const [, toMid, , final] = flight.plan.steps;
  if (toMid?.kind === 'move' && final?.kind === 'move') {
    addDeviation(out, flight, grid, {
      name: 'deviation 1',
      step: toMid,
      fromS: edge(0),
      toS: edge(1),
    });
    addDeviation(out, flight, grid, {
      name: 'deviation 2',
      step: final,
      fromS: edge(2),
      toS: contactS,
    });
  }
  addContact(out, flight, contactS);
  return out;
}

/** Means of the noise-free components over the last second of rows. */
function addContact(out: Map<string, number>, flight: CalibrationFlight, contactS: number): void {
  const sums = { y: 0, z: 0, vx: 0, vy: 0, vz: 0 };
  const count = 101;
  for (let k = 0; k < count; k++) {
    const s = flight.truthAt(flight.lastRowS - k / (count - 1));
    sums.y += s.y / count;
    sums.z += s.z / count;
    sums.vx += s.vx / count;
    sums.vy += s.vy / count;
    sums.vz += s.vz / count;
  }
  out.set('contact time', contactS);
  out.set('contact closing rate', -sums.vx);
  out.set('contact lateral offset', Math.hypot(sums.y, sums.z));
  out.set('contact lateral rate', Math.hypot(sums.vy, sums.vz));
}
