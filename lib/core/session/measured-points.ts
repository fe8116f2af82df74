/** From what to what a source measures, and in which axes, as the session file states it. */

/** Along x, y and z. */
export type Vector = readonly [x: number, y: number, z: number];

/**
 * One end of what is measured. `toPortM` leads from it to the docking port of its body, in that body's
 * axes, m; null where nobody states it.
 */
export type MeasuredPoint = Readonly<{ name: string; isPort: boolean; toPortM: Vector | null }>;

/** The position is of the vehicle's point as seen from the target's. */
export type MeasuredBetween = Readonly<{ vehicle: MeasuredPoint; target: MeasuredPoint }>;

/** Axes that turn with the orbit: `turnRadPerS` is their rate along the orbit's normal. */
export type OrbitTurn = Readonly<{ rateRadPerS: number; normal: Vector }>;

/** True where both ends are docking ports, or lie in them. */
export function isBetweenPorts({ vehicle, target }: MeasuredBetween): boolean {
  return [vehicle, target].every(isAtPort);
}

/** True for a port, and for a point from which no way leads to it. */
export function isAtPort({ isPort, toPortM }: MeasuredPoint): boolean {
  return isPort || (toPortM?.every((m) => m === 0) ?? false);
}

/** `centre of mass to port`. */
export function betweenWords({ vehicle, target }: MeasuredBetween): string {
  return `${vehicle.name} to ${target.name}`;
}
