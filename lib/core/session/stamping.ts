/** What the stamps of a source mean, how long its rows were on their way, and when they were there. */

/** The moment that a stamp writes down: of the measurement or event, of the making, of the reception. */
export const STAMP_MEANINGS = ['measured', 'generated', 'received'] as const;
export type StampMeaning = (typeof STAMP_MEANINGS)[number];

export const AVAILABILITIES = ['real-time', 'afterwards'] as const;
export type Availability = (typeof AVAILABILITIES)[number];

/** `null` where not stated. `latencyS`: from measurement, event or making to reception, s. */
export type Stamping = Readonly<{
  stamp: StampMeaning | null;
  latencyS: number | null;
  available: Availability | null;
}>;

/** The same as a log holds it: what is not stated is absent. */
export type StatedStamping = Readonly<{
  stamp?: StampMeaning;
  latencyS?: number;
  available?: Availability;
}>;

type StampingData = Readonly<{
  stamp?: StampMeaning | undefined;
  latency_s?: number | undefined;
  available?: Availability | undefined;
}>;

/** Reads the three keys of a source in session.yaml. */
export function readStamping({ stamp, latency_s, available }: StampingData): Stamping {
  return { stamp: stamp ?? null, latencyS: latency_s ?? null, available: available ?? null };
}

/** Leaves out what is not stated. */
export function statedOf({ stamp, latencyS, available }: Stamping): StatedStamping {
  return {
    ...(stamp === null ? {} : { stamp }),
    ...(latencyS === null ? {} : { latencyS }),
    ...(available === null ? {} : { available }),
  };
}

/**
 * What is stated of any source, of samples or of a log.
 *
 * @param source telemetry has it under `declared`, a log beside its entries
 */
export function stampingOf(source: Readonly<{ declared: Stamping }> | StatedStamping): Stamping {
  if ('declared' in source) {
    const { stamp, latencyS, available } = source.declared;
    return { stamp, latencyS, available };
  }
  const { stamp = null, latencyS = null, available = null } = source;
  return { stamp, latencyS, available };
}

/**
 * How long after its stamp a row or entry was there, s.
 *
 * @returns 0 where the stamp is that of reception; the latency where it is that of measurement or
 *   making, or where nothing is stated of it
 */
export function thereAfterS({ stamp, latencyS }: Stamping): number {
  return stamp === 'received' ? 0 : (latencyS ?? 0);
}

/**
 * How long before its stamp a row was measured, or what an entry tells of happened, s.
 *
 * @returns the latency where the stamp is that of reception, else 0
 */
export function happenedBeforeS({ stamp, latencyS }: Stamping): number {
  return stamp === 'received' ? (latencyS ?? 0) : 0;
}

/** Seconds of a latency as typed; NaN where it is no number of 0 or more. */
export function latencySeconds(typed: string): number {
  const text = typed.trim().replace(',', '.');
  return /^\d+(?:\.\d*)?$|^\.\d+$/.test(text) ? Number(text) : Number.NaN;
}
