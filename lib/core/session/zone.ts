/** A zone of space about the target point, as a plan declares it. */

/**
 * A sphere or an ellipsoid about the point that positions are measured from (as a rule the target's docking
 * port), its semi-axes along the axes of the position, m. `axialM` cuts it: only what lies between these
 * axial distances counts, m; null = all of it.
 */
export type Zone = Readonly<{
  id: string;
  title: string;
  shape:
    | Readonly<{ kind: 'sphere'; radiusM: number }>
    | Readonly<{ kind: 'ellipsoid'; semiAxesM: readonly [xM: number, yM: number, zM: number] }>;
  axialM: readonly [lowM: number, highM: number] | null;
}>;

/** A zone's shape and size in words: `within 200 m of the target point`. */
export function zoneWords({ shape, axialM }: Pick<Zone, 'shape' | 'axialM'>): string {
  const size =
    shape.kind === 'sphere'
      ? `within ${shape.radiusM} m of the target point`
      : `ellipsoid about the target point, semi-axes ${shape.semiAxesM.join(', ')} m`;
  return axialM === null ? size : `${size}, axial distance ${axialM[0]} to ${axialM[1]} m`;
}
