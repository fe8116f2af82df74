/** The docking standard's limits on the conditions at initial contact, and how a value stands. */
import type { Figure } from '../figure';
import {
  type ContactLimit,
  type ContactLimitTable,
  contactLimitTable,
} from '../session/contact-limit-table';
import type { Plan } from '../session/plan';

/**
 * Initial contact conditions of the docking standard. Closing rate has a lower bound as well;
 * pitch and yaw count as one vector sum, roll stands alone. A bound itself is inside.
 *
 * Valid: for a mechanism built to this standard; another mechanism has limits of its own.
 * Source: International Docking System Standard, Interface Definition Document, Revision E,
 * October 2016, Table 3.3.1.1-2 (read in three transcriptions that agree, not in the document).
 */
export const CONTACT_LIMITS: ContactLimitTable = contactLimitTable(
  'Initial contact conditions',
  'International Docking System Standard (IDSS) Interface Definition Document, Revision E, October 2016, Table 3.3.1.1-2',
  {
    closing_rate_mps: [0.05, 0.1],
    lateral_rate_mps: [null, 0.04],
    lateral_offset_m: [null, 0.1],
    attitude_error_pitch_yaw_deg: [null, 4],
    attitude_error_roll_deg: [null, 4],
    body_rate_pitch_yaw_dps: [null, 0.2],
    body_rate_roll_dps: [null, 0.2],
  },
);

/** The limits that hold for a session: the plan's own, else the docking standard's. */
export function contactLimitsOf(plan: Plan | null): ContactLimitTable {
  return plan?.contactLimits ?? CONTACT_LIMITS;
}

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

/**
 * How much of its upper limit a condition took up.
 *
 * @param limit one row of the table
 * @param figure the condition in the limit's unit
 * @returns size over upper limit, 1 on the bound; half-widths over it too, the limit being exact; the
 *   evidence is that of the condition. A limit of nothing has no parts: the value is null and says so
 */
export function limitUsed({ label, atMost }: ContactLimit, figure: Figure): Figure {
  const over = (part: number | null) => (part === null || atMost === 0 ? null : part / atMost);
  const { value, uncertainty } = figure;
  return {
    ...figure,
    value: over(value === null ? null : Math.abs(value)),
    unit: '1',
    uncertainty:
      uncertainty === null
        ? null
        : { random: over(uncertainty.random), systematic: over(uncertainty.systematic) },
    method: `Size over upper limit. ${label}: ${figure.method}`,
    ...(atMost === 0 ? { reason: 'The upper limit is zero, which has no parts.' } : {}),
  };
}
