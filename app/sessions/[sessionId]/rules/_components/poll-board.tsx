import Link from 'next/link';
import { Suspense } from 'react';
import { Field } from '@/app/_components/form/field';
import type { PollAsked, PollChoice } from '@/lib/view/poll-view';
import styles from './poll-board.module.css';
import { PollResult } from './poll-result';

type PollBoardProps = Readonly<{
  sessionId: string;
  asked: PollAsked;
  /** The verdict whose rules alone the page shows, which another instant does not change. */
  verdict: string | null;
  choices: readonly PollChoice[];
}>;

/** Asks for an instant and shows where every rule stood, as far as it could be known then. */
export function PollBoard({ sessionId, asked, verdict, choices }: PollBoardProps) {
  return (
    <section className="panel" id="poll">
      <h2>State at a poll</h2>
      <p className="soft">
        Value, limit, room, trend and age of each rule at one instant, from real-time sources
        received by then alone. A recording that arrived afterwards changes nothing here.
      </p>
      <div className={`${styles.ask} no-print`}>
        {choices.length > 0 && (
          <nav aria-label="Polls of the log">
            <ul className={`plain ${styles.polls}`}>
              {choices.map((poll) => (
                <li key={poll.key}>
                  <Link
                    className={styles.poll}
                    href={poll.href}
                    aria-current={poll.isOpen ? 'true' : undefined}
                    prefetch={false}
                  >
                    <span className="num">{poll.text}</span> {poll.words}
                  </Link>
                </li>
              ))}
            </ul>
          </nav>
        )}
        <form className={styles.form} method="get" action="#poll">
          {verdict !== null && <input type="hidden" name="verdict" value={verdict} />}
          <Field
            label="Session time, or a clock time such as 09:30:44 UTC"
            name="at"
            value={asked.typed}
            problem={asked.problem ?? undefined}
          />
          <button className="button" type="submit">
            Show
          </button>
        </form>
      </div>
      {choices.length === 0 && asked.atS === null && (
        <p className="soft">
          No log has the event <code>poll</code>; any session time can be asked for.
        </p>
      )}
      {asked.atS !== null && (
        <Suspense
          key={asked.atS}
          fallback={
            <p className="soft" role="status">
              Finding what was known at {asked.typed}…
            </p>
          }
        >
          <PollResult sessionId={sessionId} atS={asked.atS} />
        </Suspense>
      )}
    </section>
  );
}
