import Link from 'next/link';
import { CoverageBar } from '@/app/_components/marks/coverage-bar';
import type { RecordingView } from '@/lib/view/recordings/recordings-view';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import facts from '../../_components/facts.module.css';
import { ActButton } from './act-button';
import { AttachForm } from './attach-form';
import { ClockForm } from './clock-form';
import { ClockTable } from './clock-table';
import styles from './recordings.module.css';

type RecordingListProps = Readonly<{
  recordings: readonly RecordingView[];
  sessionId: string;
  place: EntryPlace;
}>;

/** Recordings of sound and picture: each with its file, its clock and what it covers; a new one is attached here. */
export function RecordingList({ recordings, sessionId, place }: RecordingListProps) {
  return (
    <section className="panel" id="recordings">
      <h2>Sound and picture</h2>
      {recordings.length === 0 && (
        <p className="soft">
          No recording is attached. With one, the timeline plays it in step with its cursor.
        </p>
      )}
      {recordings.map((recording) => (
        <article key={recording.id} className={styles.recording} aria-label={recording.name}>
          <Facts recording={recording} />
          {(recording.state === 'here' || recording.state === 'not here') && (
            <ClockForm {...{ recording, sessionId, place }} />
          )}
          <ClockTable clocks={recording.clocks} sessionId={sessionId} />
          <Acts recording={recording} sessionId={sessionId} />
        </article>
      ))}
      <AttachForm sessionId={sessionId} place={place} />
    </section>
  );
}

function Facts({ recording }: Readonly<{ recording: RecordingView }>) {
  const { name, state, coverage, noCoverage } = recording;
  const isGone = state === 'removed' || state === 'deleted';
  return (
    <>
      <div className={styles.head}>
        <h3>{isGone ? <s>{name}</s> : name}</h3>
        <span className="soft">
          {recording.about} · {recording.attached}
        </span>
      </div>
      {recording.obstacle !== null && <p className="unsure">{recording.obstacle}</p>}
      <dl className={facts.facts}>
        <div>
          <dt>length</dt>
          <dd className="num">{recording.length}</dd>
        </div>
        <div>
          <dt>clock</dt>
          <dd>{recording.clock}</dd>
        </div>
        <div className={facts.wide}>
          <dt>SHA-256</dt>
          <dd>
            <code className={facts.hash}>{recording.sha256}</code>
          </dd>
        </div>
        {recording.clockReason !== null && (
          <div className={facts.wide}>
            <dt>about the clock</dt>
            <dd>{recording.clockReason}</dd>
          </div>
        )}
      </dl>
      {coverage !== null && (
        <div className={styles.coverage}>
          <CoverageBar covered={coverage} gaps={[]} />
          <p className={styles.caption}>
            covers{' '}
            <Link className="num" href={coverage.href} prefetch={false}>
              {coverage.text}
            </Link>{' '}
            <span className="soft">of the session, which is the whole line</span>
          </p>
        </div>
      )}
      {noCoverage !== null && <p className={styles.caption}>covers {noCoverage}</p>}
    </>
  );
}

function Acts({
  recording,
  sessionId,
}: Pick<RecordingListProps, 'sessionId'> & Readonly<{ recording: RecordingView }>) {
  const { id, version, name, state } = recording;
  const place = { id, version };
  if (state === 'deleted')
    return <p className="soft">Its file was deleted; what was said of it stays on record.</p>;
  if (state === 'removed')
    return (
      <div className={`${styles.acts} no-print`}>
        <ActButton {...{ sessionId, place, name }} act="put back" words="Put it back" />
        <ActButton
          {...{ sessionId, place, name }}
          act="delete file"
          words="Delete its file for good"
        />
      </div>
    );
  return (
    <div className={`${styles.acts} no-print`}>
      <ActButton {...{ sessionId, place, name }} act="take off" words="Take it off" />
    </div>
  );
}
