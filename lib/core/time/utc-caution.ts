/** What has to stand beside UTC times that the leap-second table cannot vouch for. */
import { leapSecondIssue } from './leap-seconds';

/**
 * A sentence for a session whose start or end lies outside the leap-second table.
 *
 * Session time is elapsed SI seconds and is not touched: only its writing as UTC is.
 *
 * @param zeroTaiNs the session's zero, integer TAI nanoseconds as text
 * @param durationS its length, s; null where it is not known
 * @returns null where the table covers both ends
 */
export function utcCaution(zeroTaiNs: string, durationS: number | null): string | null {
  const zeroNs = BigInt(zeroTaiNs);
  const endNs = zeroNs + BigInt(Math.round((durationS ?? 0) * 1e9));
  const issue = leapSecondIssue({ taiNs: zeroNs }) ?? leapSecondIssue({ taiNs: endNs });
  return issue === null
    ? null
    : `UTC is not certain: ${issue.message}. Session time is not touched by it.`;
}
