/** A session's draft as it is stored, and a change of its words. */
import type { DocNode } from '@/lib/core/debrief/document';
import { db } from '@/lib/server/db';

export async function loadDraft(sessionId: string) {
  const row = await db().document.findUniqueOrThrow({ where: { sessionId } });
  return { version: row.version, title: row.title, body: JSON.parse(row.body) as DocNode };
}

/** The draft with other words in its n-th paragraph. */
export function reworded(doc: DocNode, index: number, words: string): DocNode {
  const target = (doc.content ?? []).filter((block) => block.type === 'paragraph')[index];
  return {
    ...doc,
    content: (doc.content ?? []).map((block) =>
      block === target ? { ...block, content: [{ type: 'text', text: words }] } : block,
    ),
  };
}
