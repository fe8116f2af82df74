import Link from 'next/link';
import type { SourceLink } from '@/lib/view/clock/source-choice';
import styles from './clock.module.css';

type SourceChoiceProps = Readonly<{ links: readonly SourceLink[]; sessionId: string }>;

/** Whose clock is shown, and what to do where none rests on anything. */
export function SourceChoice({ links, sessionId }: SourceChoiceProps) {
  const hasChosen = links.some(({ isChosen }) => isChosen);
  return (
    <>
      <div className="page-head">
        <h1>Clock</h1>
        <p>
          How a source’s own time was put onto session time, and what that rests on.{' '}
          <Link href={`/sessions/${sessionId}/sources`}>Back to the sources</Link>
        </p>
      </div>
      {links.length > 0 && (
        <nav className={`${styles.choice} no-print`} aria-label="Source whose clock is shown">
          {links.map(({ file, href, isChosen, note }) => (
            <Link
              key={file}
              href={href}
              prefetch={false}
              aria-current={isChosen ? 'page' : undefined}
            >
              <code>{file}</code> <span className="soft">{note}</span>
            </Link>
          ))}
        </nav>
      )}
      {!hasChosen && (
        <section className="panel">
          <p className="soft">
            {links.length === 0
              ? 'This session was not reconstructed, so no clock was found.'
              : 'No source of this session has a clock that rests on evidence: each is taken as it was stated, and no log speaks of a range. Choose a source to set a tie point by hand.'}
          </p>
        </section>
      )}
    </>
  );
}
