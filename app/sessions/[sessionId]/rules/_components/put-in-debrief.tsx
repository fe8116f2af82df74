'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import type { SentView } from '@/lib/view/debrief/sent-view';
import { putPollInDebrief } from '../actions';
import styles from './poll-board.module.css';

type PutInDebriefProps = Readonly<{ sessionId: string; atS: number }>;

const UNREACHED: SentView = {
  isDone: false,
  words: 'The server did not answer: nothing was put into the debrief. Try again.',
  href: null,
};

/** Puts the board of this instant into the draft of the debrief. */
export function PutInDebrief({ sessionId, atS }: PutInDebriefProps) {
  const [sent, setSent] = useState<SentView | null>(null);
  const [isSending, startSending] = useTransition();
  const send = () =>
    startSending(async () => {
      setSent(await putPollInDebrief(sessionId, atS).catch(() => UNREACHED));
    });
  return (
    <div className={`${styles.put} no-print`}>
      <button type="button" className="button" onClick={send} disabled={isSending}>
        Put into the debrief
      </button>
      <p role="status" className={sent?.isDone === false ? 'unsure' : 'soft'}>
        {sent?.words}{' '}
        {sent !== null && sent.href !== null && <Link href={sent.href}>To the debrief</Link>}
      </p>
    </div>
  );
}
