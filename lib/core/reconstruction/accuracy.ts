/** What a source states about its own accuracy. */
import type { TelemetryDeclaration } from '../session/session-input';

/**
 * The stated half-width (95 %) for a quantity. A statement for `position` counts for `position.x`.
 *
 * @param declared what the session file states of the source
 * @param names quantities in the order in which to look, `position.x` before `range`
 * @returns the half-width in SI; `null` where nothing is stated
 */
export function statedAccuracy(
  declared: TelemetryDeclaration,
  names: readonly string[],
): number | null {
  const { accuracy } = declared;
  if (accuracy === null) return null;
  for (const name of names) {
    const key = [name, name.split('.')[0] ?? name].find((each) => Object.hasOwn(accuracy, each));
    if (key !== undefined) return accuracy[key] ?? null;
  }
  return null;
}
