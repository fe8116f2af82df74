'use client';

import { conflictText } from '@/lib/view/timeline-conflict';
import styles from './side-sheet.module.css';

export type RefusedProps = Readonly<{
  refusal: Readonly<{
    message: string;
    code?: string;
    fields?: Readonly<Record<string, string>>;
    newer?: unknown;
  }>;
  /** Saves over the newer words after they have been read. */
  takeVersion: (version: number) => void;
}>;

/** Why it was not saved; when somebody else was quicker, their words beside yours. */
export function Refused({ refusal, takeVersion }: RefusedProps) {
  const newer = conflictText(refusal.newer);
  const sentences = Object.values(refusal.fields ?? {});
  return (
    <div className={styles.wrong} role="alert">
      {sentences.length === 0 ? (
        <p>{refusal.message}</p>
      ) : (
        sentences.map((sentence) => <p key={sentence}>{sentence}</p>)
      )}
      {newer !== null && (
        <>
          <dl className={styles.figures}>
            {newer.fields.map(([name, text]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{text === '' ? 'empty' : text}</dd>
              </div>
            ))}
          </dl>
          <button type="button" className="button" onClick={() => takeVersion(newer.version)}>
            I have read it: let me save mine over it
          </button>
        </>
      )}
    </div>
  );
}
