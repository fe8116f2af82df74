import type { SessionHeadView } from '@/lib/view/session-head-view';
import styles from './session-title.module.css';

type SessionTitleProps = Readonly<{ view: SessionHeadView }>;

/** What is reviewed: title, day, kind, plan. */
export function SessionTitle({ view }: SessionTitleProps) {
  return (
    <div className={styles.title}>
      <strong className={styles.name} title={view.title}>
        {view.title}
      </strong>
      <span className={styles.meta} title={view.meta}>
        {view.meta}
      </span>
      {view.demoNote !== null && <span className={styles.demo}>{view.demoNote}</span>}
    </div>
  );
}
