import { removeDemoAction, removeSessionAction } from '@/app/actions';
import type { SessionRow } from '@/lib/view/sessions-view';
import styles from './session-table.module.css';

type RemoveSessionProps = Readonly<{ row: SessionRow }>;

/** Removal in two steps: the first opens what it means, the second does it. */
export function RemoveSession({ row }: RemoveSessionProps) {
  const id = `remove-${row.id}`;
  return (
    <>
      <button
        className={styles.open}
        type="button"
        popoverTarget={id}
        aria-label={`Remove ${row.title}`}
      >
        remove
      </button>
      <form
        className={`beside ${styles.card}`}
        id={id}
        popover="auto"
        role="dialog"
        aria-label={`Remove ${row.title}?`}
        action={row.isDemo ? removeDemoAction : removeSessionAction}
      >
        <p>{row.removal}</p>
        <input type="hidden" name="sessionId" value={row.id} />
        <input type="hidden" name="version" value={row.version} />
        <button className="button danger" type="submit">
          {row.isDemo ? 'Remove the demo' : 'Remove this session'}
        </button>
      </form>
    </>
  );
}
