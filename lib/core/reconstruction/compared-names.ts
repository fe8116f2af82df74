/** What a comparison with simulator runs looks at, axis by axis. */

/** A quantity by the name that runs and flight share; `unit` is SI. */
export type ComparedName = Readonly<{ name: string; label: string; unit: string }>;

/** In the order of a reader's questions: along the axis, across it, then attitude and its rates. */
export const COMPARED_QUANTITIES: readonly ComparedName[] = [
  { name: 'closing_rate', label: 'Closing rate', unit: 'm/s' },
  { name: 'y', label: 'Offset along y', unit: 'm' },
  { name: 'z', label: 'Offset along z', unit: 'm' },
  { name: 'lateral_offset', label: 'Lateral offset', unit: 'm' },
  { name: 'attitude_error.roll', label: 'Roll error', unit: 'rad' },
  { name: 'attitude_error.pitch', label: 'Pitch error', unit: 'rad' },
  { name: 'attitude_error.yaw', label: 'Yaw error', unit: 'rad' },
  { name: 'body_rate.roll', label: 'Roll rate', unit: 'rad/s' },
  { name: 'body_rate.pitch', label: 'Pitch rate', unit: 'rad/s' },
  { name: 'body_rate.yaw', label: 'Yaw rate', unit: 'rad/s' },
];

/** What people call a compared quantity; its own name for another one. */
export function quantityLabel(quantity: string): string {
  return COMPARED_QUANTITIES.find(({ name }) => name === quantity)?.label ?? quantity;
}
