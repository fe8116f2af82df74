import { removeDemoAction, removeSessionAction } from '@/app/actions';
import type { SessionRow } from '@/lib/view/sessions-view';
import styles from './session-table.module.css';

type RemoveSessionProps = Readonly<{ row: SessionRow }>;

/** Removal in two steps: the first opens what it means, the second does it. */
export function RemoveSession({ row }: RemoveSessionProps) {
  return (
    <details className={styles.confirm} name="remove-session">
      <summary aria-label={`Remove ${row.title}`}>remove</summary>
      <form className={styles.card} action={row.isDemo ? removeDemoAction : removeSessionAction}>
        <p>{row.removal}</p>
        <input type="hidden" name="sessionId" value={row.id} />
        <input type="hidden" name="version" value={row.version} />
        <button className="button danger" type="submit">
          {row.isDemo ? 'Remove the demo' : 'Remove this session'}
        </button>
      </form>
    </details>
  );
}
