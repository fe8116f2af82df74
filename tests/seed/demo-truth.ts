/** Phases, exceedance and contact of the demo by plain arithmetic on its noise-free states. */
import { DEMO_PLAN } from '@/seed/demo-plan';
import type { FlightTruth } from '@/seed/flight-truth';

export type TruthRun = Readonly<{ motion: string; startS: number; endS: number }>;

type Row = Readonly<{
  timeS: number;
  rangeM: number;
  closingMps: number;
  axialM: number;
  offsetM: number;
}>;

function rowsToContact(truth: FlightTruth): Row[] {
  const { timeS, x, y, z, vx, vy, vz } = truth.columns;
  const at = (column: readonly number[], row: number) => column[row] ?? Number.NaN;
  return timeS.flatMap((time, row) => {
    if (time > truth.contactS) return [];
    const rangeM = Math.hypot(at(x, row), at(y, row), at(z, row));
    const along = at(x, row) * at(vx, row) + at(y, row) * at(vy, row) + at(z, row) * at(vz, row);
    const offsetM = Math.hypot(at(y, row), at(z, row));
    return [{ timeS: time, rangeM, closingMps: -along / rangeM, axialM: at(x, row), offsetM }];
  });
}

function motionOf(closingMps: number): string {
  if (Math.abs(closingMps) < DEMO_PLAN.holdRateMps) return 'hold';
  return closingMps > 0 ? 'closing' : 'opening';
}

/** Runs of motion; none of the demo's is shorter than the dwell, so none is joined to another. */
export function truthRuns(truth: FlightTruth): TruthRun[] {
  const runs: { motion: string; startS: number; endS: number }[] = [];
  for (const row of rowsToContact(truth)) {
    const motion = motionOf(row.closingMps);
    const last = runs.at(-1);
    if (last !== undefined) last.endS = row.timeS;
    if (last?.motion !== motion) runs.push({ motion, startS: row.timeS, endS: row.timeS });
  }
  return runs;
}

/** The braking profile of rules.yaml, written out a second time. */
function profileMps(rangeM: number): number {
  if (rangeM <= 20) return 0.1;
  if (rangeM <= 26) return 0.1 + ((rangeM - 20) / 6) * 0.05;
  if (rangeM <= 38) return 0.15;
  if (rangeM <= 44) return 0.15 + ((rangeM - 38) / 6) * 0.12;
  return 0.27 + ((rangeM - 44) / 256) * 0.2;
}

export type TruthExceedance = Readonly<{ startS: number; endS: number; worstMps: number }>;

/** Stretches over the braking profile that last at least 2 s. */
export function truthExceedances(truth: FlightTruth): TruthExceedance[] {
  const found: { startS: number; endS: number; worstMps: number; excess: number }[] = [];
  let open: (typeof found)[number] | null = null;
  for (const { timeS, rangeM, closingMps } of rowsToContact(truth)) {
    const excess = closingMps - profileMps(rangeM);
    if (excess <= 0) {
      open = null;
      continue;
    }
    if (open === null) {
      open = { startS: timeS, endS: timeS, worstMps: closingMps, excess };
      found.push(open);
    }
    open.endS = timeS;
    if (excess > open.excess) Object.assign(open, { worstMps: closingMps, excess });
  }
  return found.filter(({ startS, endS }) => endS - startS >= 2);
}

/** Smallest room left in the corridor of rules.yaml (2 deg, at least 0.2 m) from 140 m to 2 m, m. */
export function truthCorridorMarginM(truth: FlightTruth): number {
  const inside = rowsToContact(truth).filter(({ axialM }) => axialM >= 2 && axialM <= 140);
  const tangent = Math.tan((2 * Math.PI) / 180);
  return Math.min(
    ...inside.map(({ axialM, offsetM }) => Math.max(0.2, axialM * tangent) - offsetM),
  );
}
