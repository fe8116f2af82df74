/** Where figures are of other points than the ports: what the screens of a session say about it. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';

/** Which points the figures are of, and why not of the ports; null where they are of the ports. */
export type PointsView = Readonly<{ label: string; why: string; notice: string }>;

export function pointsView({ navigation }: Reconstruction): PointsView | null {
  const reference = navigation?.sources.find(({ isSolution }) => isSolution)?.reference;
  if (reference?.points !== 'elsewhere') return null;
  const label = reference.label ?? 'other points';
  const why = reference.why ?? 'nothing says where the ports lie';
  return {
    label,
    why,
    notice: `Every range, rate and offset here is of ${label}, not of the ports: ${why}. Contact is not read from the motion, and its conditions are not evaluated.`,
  };
}
