'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import {
  type EnvelopeQuestion,
  envelopeAddress,
  FIRST_PIXELS,
} from '@/lib/view/charts/envelope-question';
import { decodeEnvelope, type EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import {
  type EnvelopeReader,
  type EnvelopesRead,
  GoneError,
  makeEnvelopeReader,
} from './envelope-reader';

export type Envelopes = EnvelopesRead & Readonly<{ retry: () => void }>;

type Asked = Readonly<{
  sessionId: string;
  session: TimeWindow;
  window: TimeWindow;
  keys: readonly string[];
  /** Width of the plots; null until it is known: what is asked then is what the page's head asked for. */
  pixels: number | null;
}>;

/** Envelopes for what is shown: a change of the window draws at once from what is there. */
export function useEnvelopes({ sessionId, session, window, keys, pixels }: Asked): Envelopes {
  const [read, setRead] = useState<EnvelopesRead>({ answers: [], state: 'asking' });
  const reader = useRef<EnvelopeReader | null>(null);
  useEffect(() => {
    const own = makeEnvelopeReader(
      (question, signal) => fetchEnvelope(sessionId, question, signal),
      setRead,
    );
    reader.current = own;
    return () => own.close();
  }, [sessionId]);
  useEffect(() => {
    reader.current?.want({ session, window, keys, pixels: pixels ?? FIRST_PIXELS });
  }, [session, window, keys, pixels]);
  const retry = useCallback(() => reader.current?.retry(), []);
  return { ...read, retry };
}

async function fetchEnvelope(
  sessionId: string,
  question: EnvelopeQuestion,
  signal: AbortSignal,
): Promise<EnvelopeAnswer> {
  const response = await fetch(envelopeAddress(sessionId, question), { signal });
  if (response.status === 404) throw new GoneError();
  if (!response.ok) throw new Error(`envelope: ${response.status}`);
  const answer = decodeEnvelope(await response.arrayBuffer());
  if (answer === null) throw new Error('envelope: not an envelope');
  return answer;
}
