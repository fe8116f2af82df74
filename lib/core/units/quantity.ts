/** The quantities that a channel or a rule can name, and the SI unit each is kept in. */

const AXES = ['x', 'y', 'z'];
const ANGLES = ['roll', 'pitch', 'yaw'];
/** Of the vehicle and of the target against the same axes, or of the vehicle against the target. */
const ATTITUDES = ['attitude', 'target_attitude', 'relative_attitude'];
const QUATERNION = ['q_w', 'q_x', 'q_y', 'q_z'];

function named(stem: string, parts: readonly string[], siUnit: string): [string, string][] {
  return parts.map((part) => [`${stem}.${part}`, siUnit]);
}

/** Quantity of a telemetry channel (`as`) to its SI unit. */
export const CHANNEL_QUANTITIES: ReadonlyMap<string, string> = new Map([
  ['range', 'm'],
  ['range_rate', 'm/s'],
  ...named('position', AXES, 'm'),
  ...named('velocity', AXES, 'm/s'),
  ...named('attitude_error', ANGLES, 'rad'),
  ...ATTITUDES.flatMap((stem) => [...named(stem, ANGLES, 'rad'), ...named(stem, QUATERNION, '1')]),
  ...named('body_rate', ANGLES, 'rad/s'),
  ...named('hand_controller', [...AXES, ...ANGLES], '1'),
  ...named('jet_on_time', AXES, 's'),
  ['propellant_mass', 'kg'],
]);

/** Quantity that the reconstruction derives from the motion to its SI unit. */
export const DERIVED_QUANTITIES: ReadonlyMap<string, string> = new Map([
  ['range', 'm'],
  ['closing_rate', 'm/s'],
  ['axial_distance', 'm'],
  ['axial_closing_rate', 'm/s'],
  ['lateral_offset', 'm'],
]);

/**
 * SI unit of a quantity that the program knows.
 *
 * @param quantity name in a rule or in `as`
 * @returns the SI unit; null for any other name, which is kept and plotted as it is
 */
export function siUnitOfQuantity(quantity: string): string | null {
  return DERIVED_QUANTITIES.get(quantity) ?? CHANNEL_QUANTITIES.get(quantity) ?? null;
}

const RATE_UNITS: ReadonlyMap<string, string> = new Map([
  ['m', 'm/s'],
  ['m/s', 'm/s2'],
  ['rad', 'rad/s'],
]);

/** The unit of a quantity's change per second. */
export function rateUnit(siUnit: string): string {
  return RATE_UNITS.get(siUnit) ?? `${siUnit}/s`;
}
