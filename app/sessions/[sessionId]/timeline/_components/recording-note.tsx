import type { TimelineView } from '@/lib/view/timeline';
import styles from './timeline.module.css';

type RecordingNoteProps = Readonly<{
  view: Pick<TimelineView, 'sessionId' | 'recordings' | 'silent'>;
}>;

/** Where recordings are attached, and which of them cannot be played. */
export function RecordingNote({ view }: RecordingNoteProps) {
  const sources = `/sessions/${encodeURIComponent(view.sessionId)}/sources#recordings`;
  const none = view.recordings.length === 0 && view.silent === null;
  return (
    <p className={`${styles.absent} no-print`}>
      {view.silent !== null && `Sound and picture: ${view.silent} `}
      <a href={sources}>
        {none ? 'Attach a recording of sound or picture' : 'Recordings on Sources'}
      </a>
    </p>
  );
}
