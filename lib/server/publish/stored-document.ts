/** Drafts as rows: reading them checked, and the schema they are held against. */
import { DOCUMENT_SCHEMA, type DocNode } from '@/lib/core/debrief/document';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { DomainError } from '@/lib/core/result';

const SCHEMA = documentSchema(BUILT_IN_BLOCKS);

/** True for what a draft may hold: a block, or a value within a line. */
export function isDraftNode(node: unknown): node is DocNode {
  const bodies = [
    { type: 'doc', content: [node] },
    // A block at the top has an id, or nothing that it holds would be taken.
    { type: 'doc', content: [{ type: 'paragraph', attrs: { id: 'line' }, content: [node] }] },
  ];
  return bodies.some(
    (body) => loadDocument({ schema: DOCUMENT_SCHEMA, body }, SCHEMA).value !== null,
  );
}

/** A draft that came in, checked; refuses one that is not valid with what is wrong. */
export function checkedDocument(body: unknown, schema: number = DOCUMENT_SCHEMA): DocNode {
  const { value, issues } = loadDocument({ schema, body }, SCHEMA);
  if (value === null) {
    throw new DomainError(issues[0]?.code ?? 'document-not-valid', issues[0]?.message ?? '');
  }
  return value;
}
