/** What became of a block that was sent to the debrief, in words. */

export type SentView = Readonly<{ isDone: boolean; words: string; href: string | null }>;

type Answer =
  | Readonly<{ ok: true; data: Readonly<{ under: string | null; withdrawnApprovals: number }> }>
  | Readonly<{ ok: false; message: string }>;

/** One line beside the button, with the way to the debrief. */
export function sentView(answer: Answer, sessionId: string): SentView {
  const href = `/sessions/${encodeURIComponent(sessionId)}/debrief`;
  if (!answer.ok) return { isDone: false, words: answer.message, href };
  const { under, withdrawnApprovals } = answer.data;
  const place = under === null ? 'at its end' : `under \u201c${under}\u201d`;
  const withdrawn =
    withdrawnApprovals === 0 ? '' : ' What was approved is withdrawn, since the draft has changed.';
  return { isDone: true, words: `It stands in the draft now, ${place}.${withdrawn}`, href };
}
