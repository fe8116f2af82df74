import { type Instant, NS_PER_S } from '@/lib/core/time/instant';

/** The instant `durationS` elapsed SI seconds after another, rounded to the nanosecond. */
export function addSeconds(instant: Instant, durationS: number): Instant {
  const wholeS = Math.floor(durationS);
  const ns = Math.round((durationS - wholeS) * NS_PER_S);
  return { taiNs: instant.taiNs + BigInt(wholeS) * BigInt(NS_PER_S) + BigInt(ns) };
}
