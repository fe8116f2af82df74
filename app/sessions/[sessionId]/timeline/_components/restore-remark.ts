import type { Remark, Restoration } from '@/lib/view/timeline-history';
import { dropAnnotation, saveAnnotation, saveFinding } from '../actions';
import { withAddressAtRest } from './use-address';

export type Restored =
  | Readonly<{ ok: true; saved: Remark | null }>
  | Readonly<{ ok: false; isChangedMeanwhile: boolean; message: string }>;

/** Saves or drops what a step back or forth asks for. */
export async function restoreRemark(sessionId: string, what: Restoration): Promise<Restored> {
  try {
    return await withAddressAtRest(() => send(sessionId, what));
  } catch {
    return { ok: false, isChangedMeanwhile: false, message: 'The server does not answer.' };
  }
}

async function send(sessionId: string, what: Restoration): Promise<Restored> {
  if (what.act === 'drop-annotation') {
    const dropped = await dropAnnotation(sessionId, what.existing);
    return dropped.ok ? { ok: true, saved: null } : refused(dropped);
  }
  if (what.act === 'save-annotation') {
    const { text, anchor } = what.annotation;
    const saved = await saveAnnotation(sessionId, { text, ...placeOf(anchor) }, what.existing);
    return saved.ok
      ? { ok: true, saved: { kind: 'annotation', annotation: saved.data } }
      : refused(saved);
  }
  const { title, seen, change, owner, due, kind, severity, state, anchor } = what.finding;
  const words = { title, seen, change, owner, due, kind, severity, state };
  const draft = { ...words, ...placeOf(anchor) };
  const saved = await saveFinding(sessionId, draft, what.existing);
  return saved.ok ? { ok: true, saved: { kind: 'finding', finding: saved.data } } : refused(saved);
}

type Place = Readonly<{ fromS: number; toS: number; channels: readonly string[] }>;

function placeOf({ fromS, toS, channels }: Place): Place {
  return { fromS, toS, channels };
}

function refused({ code, message }: Readonly<{ code: string; message: string }>): Restored {
  return { ok: false, isChangedMeanwhile: code === 'changed-meanwhile', message };
}
