/** Limits on the conditions at initial contact that a docking mechanism is designed for. */

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

const RAD_PER_DEG = Math.PI / 180;

/**
 * Initial contact conditions of the docking standard. Closing rate has a lower bound as well;
 * pitch and yaw count as one vector sum, roll stands alone. A bound itself is inside.
 *
 * Valid: for a mechanism built to this standard; another mechanism has limits of its own.
 * Source: International Docking System Standard, Interface Definition Document, Revision E,
 * October 2016, Table 3.3.1.1-2 (read in three transcriptions that agree, not in the document).
 */
export const CONTACT_LIMITS: ContactLimitTable = {
  title: 'Initial contact conditions',
  source:
    'International Docking System Standard (IDSS) Interface Definition Document, Revision E, October 2016, Table 3.3.1.1-2',
  limits: [
    {
      condition: 'closing_rate',
      label: 'Closing rate',
      unit: 'm/s',
      atLeast: 0.05,
      atMost: 0.1,
      vectorSum: false,
    },
    {
      condition: 'lateral_rate',
      label: 'Lateral rate',
      unit: 'm/s',
      atLeast: null,
      atMost: 0.04,
      vectorSum: true,
    },
    {
      condition: 'lateral_offset',
      label: 'Lateral offset',
      unit: 'm',
      atLeast: null,
      atMost: 0.1,
      vectorSum: true,
    },
    {
      condition: 'attitude_error_pitch_yaw',
      label: 'Pitch and yaw error together',
      unit: 'rad',
      atLeast: null,
      atMost: 4 * RAD_PER_DEG,
      vectorSum: true,
    },
    {
      condition: 'attitude_error_roll',
      label: 'Roll error',
      unit: 'rad',
      atLeast: null,
      atMost: 4 * RAD_PER_DEG,
      vectorSum: false,
    },
    {
      condition: 'body_rate_pitch_yaw',
      label: 'Pitch and yaw rate together',
      unit: 'rad/s',
      atLeast: null,
      atMost: 0.2 * RAD_PER_DEG,
      vectorSum: true,
    },
    {
      condition: 'body_rate_roll',
      label: 'Roll rate',
      unit: 'rad/s',
      atLeast: null,
      atMost: 0.2 * RAD_PER_DEG,
      vectorSum: false,
    },
  ],
};

/** Where a value stands against a limit. */
export type ContactStanding = 'inside' | 'below' | 'above';

/**
 * Where a condition stands against its limit. A roll is judged by its size, without sign.
 *
 * @param limit one row of the table
 * @param value the condition in the limit's unit
 * @returns `inside` on the bounds themselves; `below` a lower bound; `above` the upper bound
 */
export function contactStanding(limit: ContactLimit, value: number): ContactStanding {
  const size = limit.atLeast === null ? Math.abs(value) : value;
  if (size > limit.atMost) return 'above';
  if (limit.atLeast !== null && size < limit.atLeast) return 'below';
  return 'inside';
}
