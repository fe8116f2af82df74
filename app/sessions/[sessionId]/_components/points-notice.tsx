import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { pointsView } from '@/lib/view/points-view';
import styles from './renewal-notice.module.css';

/** Over every screen of a session whose figures are of other points than the ports. */
export async function PointsNotice({ sessionId }: Readonly<{ sessionId: string }>) {
  const reconstruction = await loadReconstruction(sessionId);
  const view = reconstruction === null ? null : pointsView(reconstruction);
  if (view === null) return null;
  return (
    <p className={styles.notice} role="note">
      {view.notice}
    </p>
  );
}
