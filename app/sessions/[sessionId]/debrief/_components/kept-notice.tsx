'use client';

import { useEffect, useState } from 'react';
import { forgetText, type KeptText, keptText } from './kept-text';

type KeptNoticeProps = Readonly<{ sessionId: string; onTake: (kept: KeptText) => void }>;

/** Offers the text that an earlier visit could not save. */
export function KeptNotice({ sessionId, onTake }: KeptNoticeProps) {
  const [kept, setKept] = useState<KeptText | null>(null);
  useEffect(() => setKept(keptText(sessionId)), [sessionId]);
  if (kept === null) return null;
  const done = () => {
    forgetText(sessionId);
    setKept(null);
  };
  return (
    <section className="panel stack" aria-label="Text that was not saved">
      <p>
        This browser has kept text that was never saved, from{' '}
        {kept.atIso.slice(0, 16).replace('T', ' ')} UTC.
      </p>
      <div className="row">
        <button
          type="button"
          className="button primary"
          onClick={() => {
            onTake(kept);
            done();
          }}
        >
          Bring it back
        </button>
        <button type="button" className="button" onClick={done}>
          Throw it away
        </button>
      </div>
    </section>
  );
}
