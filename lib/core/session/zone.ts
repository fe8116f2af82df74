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

/** A zone's size in words, numbers first: `within 200 m`, `250 × 150 × 150 m semi-axes`. */
export function zoneWords({ shape, axialM }: Pick<Zone, 'shape' | 'axialM'>): string {
  const size =
    shape.kind === 'sphere'
      ? `within ${shape.radiusM} m`
      : `${shape.semiAxesM.join(' × ')} m semi-axes`;
  return axialM === null ? size : `${size}, axial ${axialM[0]} to ${axialM[1]} m`;
}
