import type { RefObject } from 'react';
import { TIMELINE_KEY_HELP } from '@/lib/view/timeline-keys';
import styles from './key-help.module.css';

type KeyHelpProps = Readonly<{ element: RefObject<HTMLDivElement | null> }>;

/** Keys and pointer acts of the strips. Opened by its button or by the question mark. */
export function KeyHelp({ element }: KeyHelpProps) {
  return (
    <div
      ref={element}
      id="timeline-help"
      popover="auto"
      className={styles.help}
      role="dialog"
      aria-label="Keys of the timeline"
    >
      <h2>Keys, while the strips or the bar above them have the focus</h2>
      <dl className={styles.keys}>
        {TIMELINE_KEY_HELP.map((entry) => (
          <div key={entry.does} className={styles.entry}>
            <dt>
              {entry.keys.map((key) => (
                <kbd key={key}>{key}</kbd>
              ))}
            </dt>
            <dd>{entry.does}</dd>
          </div>
        ))}
      </dl>
      <h2>Pointer</h2>
      <p>
        Drag selects. Shift and drag moves the window, Control and wheel zooms. A click on a phase,
        a stretch or a bracket selects it. The strip of the whole session carries the window: drag
        it, its ends, or a new one.
      </p>
    </div>
  );
}
