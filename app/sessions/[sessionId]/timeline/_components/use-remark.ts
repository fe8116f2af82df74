'use client';

import { useState, useTransition } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { Existing } from '../actions';
import type { RefusedProps } from './refused';
import { withAddressAtRest } from './use-address';
import { type Draft, useDraft } from './use-draft';

/** What a finding and an annotation have in common. */
type Remark = Existing & Readonly<{ anchor: TimeWindow }>;

type Answer<Data> = Readonly<{ ok: true; data: Data }> | (RefusedProps['refusal'] & { ok: false });

type RemarkParts<Fields> = Readonly<{
  /** Under which unsaved words are kept in this tab. */
  draftKey: string;
  remark: Remark | null;
  /** The words as they are saved, or those of a new one. */
  words: Fields;
  selection: TimeWindow | null;
}>;

/** Where a remark stands while it is written. */
export type RemarkPlace = Readonly<{
  /** Its own stretch, the selection for a new one; null without either. */
  stretch: TimeWindow | null;
  /** Where it was moved and is not saved yet. */
  moved: TimeWindow | null;
  move: (stretch: TimeWindow) => void;
  existing: Existing | null;
}>;

type RemarkEdit<Fields extends Readonly<Record<string, string>>> = RemarkPlace &
  Readonly<{
    draft: Draft<Fields>;
    waits: boolean;
    refused: RefusedProps['refusal'] | null;
    /** Lets a save go over newer words that have been read. */
    takeVersion: (version: number) => void;
    send: <Data>(ask: () => Promise<Answer<Data>>, done: (data: Data) => void) => void;
  }>;

const NO_ANSWER = { message: 'The server does not answer. Your words are kept in this tab.' };

/** A finding or an annotation while it is written: its words, its stretch, and what came of saving. */
export function useRemark<Fields extends Readonly<Record<string, string>>>({
  draftKey,
  remark,
  words,
  selection,
}: RemarkParts<Fields>): RemarkEdit<Fields> {
  const [refused, setRefused] = useState<RefusedProps['refusal'] | null>(null);
  const [moved, move] = useState<TimeWindow | null>(null);
  const [waits, start] = useTransition();
  const draft = useDraft<Fields>(draftKey, words, remark?.version ?? 0);
  const { version, goOnFrom } = draft;
  // Somebody else's newer words arrive: shown at once where nothing has been typed over them.
  if (remark !== null && remark.version > version && draft.words === 'clean') {
    goOnFrom(remark.version);
    draft.takeUp(words);
  }
  const takeVersion = (newer: number): void => {
    goOnFrom(newer);
    setRefused(null);
  };
  const send: RemarkEdit<Fields>['send'] = (ask, done) => {
    const sent = draft.fields;
    start(async () => {
      const result = await withAddressAtRest(ask).catch(() => null);
      if (result === null || !result.ok) {
        setRefused(result ?? NO_ANSWER);
        return;
      }
      setRefused(null);
      move((now) => (now === moved ? null : now));
      draft.forget(sent);
      done(result.data);
    });
  };
  return {
    draft,
    stretch: remark === null ? selection : (moved ?? remark.anchor),
    moved,
    move,
    existing: remark === null ? null : { id: remark.id, version },
    waits,
    refused,
    takeVersion,
    send,
  };
}
