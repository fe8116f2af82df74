/** What the numbers of a source are of, once they are used. */

/**
 * `assumed`: nothing is stated, taken as port to port; `ports`: stated so; `brought`: from other points to
 * the ports; `elsewhere`: other points, and not brought. `label` says which points, `why` what was missing
 * to bring them. `velocity` is `turned` from inertial axes, or still `inertial` for want of an orbit.
 */
export type SourceReference = Readonly<{
  points: 'assumed' | 'ports' | 'brought' | 'elsewhere';
  label: string | null;
  why: string | null;
  velocity: 'as given' | 'turned' | 'inertial';
  /** Noise that an arm's own turn brings into the velocity, standard deviation, m/s. */
  rateSdMps: number;
  /** Noise of the turning axes times the distance, along x, y and z at each row, m/s; null for none. */
  turnSdMps: readonly Float64Array[] | null;
  /** The attitudes used. */
  used: readonly Readonly<{ file: string; sha256: string; channels: readonly string[] }>[];
}>;

/** True where figures are of other points than the ports. */
export function isElsewhere(reference: SourceReference | undefined): boolean {
  return reference?.points === 'elsewhere';
}

const AXES = ['x', 'y', 'z'];

/**
 * Noise that bringing a source to the ports put into its velocity along an axis, at a row: of the arm's turn
 * and of the axes', in quadrature. It hangs together over some 2 s, so a mean over less has all of it.
 *
 * @returns standard deviation, m/s; 0 where nothing was turned
 */
export function broughtRateSd(
  reference: SourceReference | undefined,
  axis: string,
): (row: number) => number {
  const arm = reference?.rateSdMps ?? 0;
  const turn = reference?.turnSdMps?.[AXES.indexOf(axis)];
  return (row) => {
    const mps = turn?.[row] ?? 0;
    return Math.hypot(arm, Number.isNaN(mps) ? 0 : mps);
  };
}

/** A sentence that every figure of the source's motion carries; null where it is of the ports as given. */
export function referenceWords(reference: SourceReference | undefined): string | null {
  if (reference === undefined) return null;
  const { points, label, velocity } = reference;
  const words = [
    ...(points === 'elsewhere' ? [`Of ${label}, not of the ports.`] : []),
    ...(points === 'brought'
      ? [`Brought from ${label} to the ports by lever arms and attitude.`]
      : []),
    ...(velocity === 'turned' ? ['The inertial velocity is turned by n x r first.'] : []),
    ...(velocity === 'inertial'
      ? ['The velocity is inertial and no orbit is stated to turn it by.']
      : []),
  ];
  return words.length === 0 ? null : words.join(' ');
}

/** Why conditions at contact are not evaluated; null where they can be. */
export function noConditions(reference: SourceReference | undefined): string | null {
  if (reference?.points !== 'elsewhere') return null;
  return `the position is of ${reference.label} and cannot be brought to the ports: ${reference.why}`;
}
