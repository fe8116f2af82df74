/** Limits on the conditions at initial contact, as data: a plan's own, or a published table. */

/** One limit on one condition of `Contact.conditions`. SI and radians; `null` = no such bound. */
export type ContactLimit = Readonly<{
  /** Key of `Contact.conditions`. */
  condition: string;
  /** What people read, the same on every screen and in documents. */
  label: string;
  /** SI unit of the bounds: `m/s`, `m`, `rad`, `rad/s`. */
  unit: string;
  atLeast: number | null;
  atMost: number;
  /** True where the condition is the root of the sum of squares of two axes. */
  vectorSum: boolean;
}>;

export type ContactLimitTable = Readonly<{
  title: string;
  source: string;
  limits: readonly ContactLimit[];
}>;

/** A condition that a table may bound: its key in a plan file, and what it is. */
export type BoundedCondition = Readonly<{
  key: string;
  condition: string;
  label: string;
  unit: string;
  /** From the unit of the key to SI. */
  toSi: number;
  vectorSum: boolean;
}>;

const RAD_PER_DEG = Math.PI / 180;

/** The conditions at contact, in the order in which tables show them. */
export const BOUNDED_CONDITIONS: readonly BoundedCondition[] = [
  ['closing_rate', 'mps', 'Closing rate', 'm/s', 1, false],
  ['lateral_rate', 'mps', 'Lateral rate', 'm/s', 1, true],
  ['lateral_offset', 'm', 'Lateral offset', 'm', 1, true],
  ['attitude_error_pitch_yaw', 'deg', 'Pitch and yaw error together', 'rad', RAD_PER_DEG, true],
  ['attitude_error_roll', 'deg', 'Roll error', 'rad', RAD_PER_DEG, false],
  ['body_rate_pitch_yaw', 'dps', 'Pitch and yaw rate together', 'rad/s', RAD_PER_DEG, true],
  ['body_rate_roll', 'dps', 'Roll rate', 'rad/s', RAD_PER_DEG, false],
].map(([condition, suffix, label, unit, toSi, vectorSum]) => ({
  key: `${condition}_${suffix}`,
  condition: String(condition),
  label: String(label),
  unit: String(unit),
  toSi: Number(toSi),
  vectorSum: vectorSum === true,
}));

/**
 * A table of limits from bounds by plan key.
 *
 * @param bounds `[at least, at most]` by key, in the key's unit; a condition without is not bounded
 */
export function contactLimitTable(
  title: string,
  source: string,
  bounds: Readonly<Record<string, readonly [atLeast: number | null, atMost: number]>>,
): ContactLimitTable {
  const limits = BOUNDED_CONDITIONS.flatMap((one): ContactLimit[] => {
    const bound = bounds[one.key];
    if (bound === undefined) return [];
    const [atLeast, atMost] = bound;
    const { condition, label, unit, vectorSum } = one;
    return [
      {
        condition,
        label,
        unit,
        atLeast: atLeast === null ? null : atLeast * one.toSi,
        atMost: atMost * one.toSi,
        vectorSum,
      },
    ];
  });
  return { title, source, limits };
}
