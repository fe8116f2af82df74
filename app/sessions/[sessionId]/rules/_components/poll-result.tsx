import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { loadPollState } from '@/lib/server/queries/load-poll-state';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import {
  type PollAnswerLine,
  type PollView,
  placeAsked,
  pollAnswers,
  pollView,
} from '@/lib/view/poll-view';
import styles from './poll-board.module.css';
import { PollTable } from './poll-table';
import { PutInDebrief } from './put-in-debrief';

type PollResultProps = Readonly<{ sessionId: string; atS: number }>;

/** The board at one instant; waits for its computation. */
export async function PollResult({ sessionId, atS }: PollResultProps) {
  const reconstruction = await loadReconstruction(sessionId);
  const place = reconstruction === null ? null : placeAsked(reconstruction, atS);
  const state = await loadPollState(sessionId, place?.atS ?? atS);
  if (state === null) {
    return (
      <p className="beyond" role="alert">
        The state at this instant could not be computed. Nothing is shown rather than something
        wrong; the server’s log says why.
      </p>
    );
  }
  const view = pollView(state, reconstruction?.ruleSet ?? [], sessionId);
  return (
    <>
      <PollHead view={view} />
      <PollCounts counts={view.counts} />
      <PollAnswers lines={reconstruction === null ? [] : pollAnswers(reconstruction, atS)} />
      {view.rows.length === 0 ? (
        <p className="soft">This session came without rules.</p>
      ) : (
        <PollTable rows={view.rows} />
      )}
      <PollUnknown view={view} />
      <PutInDebrief sessionId={sessionId} atS={atS} />
    </>
  );
}

function PollHead({ view }: Readonly<{ view: PollView }>) {
  return (
    <p className={styles.head}>
      <strong>
        At <Link href={view.timelineHref}>{view.at}</Link>
      </strong>
      <span>
        during <strong>{view.under}</strong>
      </span>
      {view.range !== null && (
        <span>
          range <FigureValue figure={view.range} />
        </span>
      )}
      {view.closing !== null && (
        <span>
          closing <FigureValue figure={view.closing} />
        </span>
      )}
      {view.age === null ? (
        <span className="unsure">no motion was known</span>
      ) : (
        <span>
          age <FigureValue figure={view.age} />
        </span>
      )}
    </p>
  );
}

/** The board in one line: how many rules stood how. */
function PollCounts({ counts }: Pick<PollView, 'counts'>) {
  if (counts.length === 0) return null;
  return (
    <ul className={`plain ${styles.counts}`} aria-label="Rules at this instant, counted">
      {counts.map(({ standing, tone, count }) => (
        <li key={standing} className={tone}>
          <span className="num">{count}</span> {standing}
        </li>
      ))}
    </ul>
  );
}

function PollAnswers({ lines }: Readonly<{ lines: readonly PollAnswerLine[] }>) {
  if (lines.length === 0) return null;
  return (
    <div className={styles.answers}>
      <h3>Answered</h3>
      <ul className="plain">
        {lines.map((line) => (
          <li key={line.key}>
            <span className="num">{line.time}</span> {line.words}{' '}
            <span className="soft">{line.place}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function PollUnknown({ view }: Readonly<{ view: PollView }>) {
  return (
    <div className="panel-note">
      <ul className="plain">
        {view.unknown.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <ul className={`plain ${styles.sources}`} aria-label="Sources at this instant">
        {view.sources.map((source) => (
          <li key={source.file}>
            {source.file}: {source.use}
            {source.age !== null && (
              <>
                , last row <FigureValue figure={source.age} /> old
              </>
            )}
          </li>
        ))}
      </ul>
      <p>
        Open: not decided by then, for what it waits for had not come. Not in force: its conditions
        did not hold at that instant. Not known: nothing received by then tells of it. So far: the
        verdict up to that instant.
      </p>
      <p>
        What people said about stretches of data afterwards is left out. For review only: this board
        is made from recordings and shows nothing live.
      </p>
    </div>
  );
}
