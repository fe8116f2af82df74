'use client';

import { useState } from 'react';
import type { InputKind } from '@/lib/core/session/file-identity';
import type { TrialView } from '@/lib/view/plans/trial-view';
import { TrialSessions } from '../_components/trial-sessions';
import { tryVersionAction } from '../actions';
import { TrialWatch } from './trial-watch';
import styles from './version-editor.module.css';

/** `isOwn`: the session uses a version of what is being edited. */
export type TrialSession = Readonly<{ id: string; title: string; isOwn: boolean }>;

type TrialPanelProps = Readonly<{
  kind: InputKind;
  entryId: string | null;
  text: string;
  isValid: boolean;
  sessions: readonly TrialSession[];
}>;

type Run = Readonly<{ jobId: string; text: string; count: number }>;

/** What the draft does to sessions, before it is saved. */
export function TrialPanel({ kind, entryId, text, isValid, sessions }: TrialPanelProps) {
  const own = sessions.filter(({ isOwn }) => isOwn);
  const [ticked, setTicked] = useState<ReadonlySet<string>>(
    () => new Set((own.length > 0 ? own : sessions).slice(0, 1).map(({ id }) => id)),
  );
  const [run, setRun] = useState<Run | null>(null);
  const [result, setResult] = useState<Readonly<{ view: TrialView; text: string }> | null>(null);
  const [problem, setProblem] = useState<string | null>(null);

  function tick(id: string): void {
    const next = new Set(ticked);
    if (!next.delete(id)) next.add(id);
    setTicked(next);
  }
  async function start(sessionIds: readonly string[]): Promise<void> {
    setProblem(null);
    const asked = await tryVersionAction({ kind, entryId, text, sessionIds }).catch(() => null);
    if (asked === null) setProblem('The server does not answer at the moment. Try again.');
    else if (asked.ok) setRun({ jobId: asked.data.jobId, text, count: sessionIds.length });
    else setProblem(asked.message);
  }

  if (sessions.length === 0) {
    return (
      <section className="panel">
        <h2>What it does to sessions</h2>
        <p className="soft">There is no session yet to try the draft on.</p>
      </section>
    );
  }
  return (
    <section className="panel stack" aria-label="What it does to sessions">
      <h2>What it does to sessions</h2>
      <div className={styles.sessions}>
        {sessions.map(({ id, title, isOwn }) => (
          <label key={id}>
            <input type="checkbox" checked={ticked.has(id)} onChange={() => tick(id)} />
            <span>
              {title} {isOwn && <span className="soft">uses it</span>}
            </span>
          </label>
        ))}
      </div>
      <div className="row">
        <button
          type="button"
          className="button"
          disabled={!isValid || ticked.size === 0 || run !== null}
          onClick={() => start([...ticked])}
        >
          Preview
        </button>
        {own.length > 1 && (
          <button
            type="button"
            className="button"
            disabled={!isValid || run !== null}
            onClick={() => start(own.map(({ id }) => id))}
          >
            Hold it against all {own.length} that use it
          </button>
        )}
        {!isValid && <span className="soft">First mend what is wrong with the draft.</span>}
      </div>
      {problem !== null && (
        <p className="beyond" role="alert">
          {problem}
        </p>
      )}
      {run !== null && (
        <TrialWatch
          key={run.jobId}
          jobId={run.jobId}
          count={run.count}
          onEnd={(view, words) => {
            if (view !== null) setResult({ view, text: run.text });
            setProblem(words);
            setRun(null);
          }}
        />
      )}
      {result !== null && (
        <div>
          <p role="status" className={styles.result}>
            {result.view.summary}.{' '}
            {result.text === text ? (
              <a href={`/plans/trials/${result.view.jobId}`}>Link to this</a>
            ) : (
              <span className="unsure">The draft was changed since: preview it again.</span>
            )}
          </p>
          <TrialSessions sessions={result.view.sessions} />
        </div>
      )}
    </section>
  );
}
