/** Stored or sent JSON -> a draft that can be relied on, or why it cannot be used. */
import type { Schema } from '@tiptap/pm/model';
import type { Issue, Parsed } from '../result';
import { DOCUMENT_SCHEMA, type DocNode } from './document';
import { limitFault } from './document-limits';
import { plainText } from './markup';

/** A draft as stored: the number of the schema it is written in, and its `doc` node. */
export type StoredDocument = Readonly<{ schema: number; body: unknown }>;

/** Steps from one schema number to the next, by the number they start from. Pure; none yet. */
const MIGRATIONS: Readonly<Record<number, (doc: unknown) => unknown>> = {};

function refused(code: string, message: string): Parsed<DocNode> {
  const issue: Issue = { code, severity: 'error', message: plainText(message).slice(0, 400) };
  return { value: null, issues: [issue] };
}

function migrate(stored: StoredDocument): unknown {
  let doc = stored.body;
  for (let number = stored.schema; number < DOCUMENT_SCHEMA; number += 1) {
    const step = MIGRATIONS[number];
    if (step === undefined) throw new Error(`invariant: no migration from schema ${number}`);
    doc = step(doc);
  }
  return doc;
}

/**
 * Migrates, bounds and checks a draft.
 *
 * @param stored what came from the database or from a browser
 * @param schema `documentSchema` of the blocks that are known
 * @returns the draft with unknown attributes dropped; one issue where it is refused
 */
export function loadDocument(stored: StoredDocument, schema: Schema): Parsed<DocNode> {
  if (!Number.isInteger(stored.schema) || stored.schema < 1 || stored.schema > DOCUMENT_SCHEMA) {
    const message = `This draft is written in schema ${stored.schema}; this program reads 1 to ${DOCUMENT_SCHEMA}.`;
    return refused('document-schema', message);
  }
  const doc = migrate(stored);
  const fault = limitFault(doc);
  if (fault !== null) return refused('document-not-valid', `The draft holds ${fault}.`);
  try {
    const node = schema.nodeFromJSON(doc);
    node.check();
    // Attributes come back as objects without prototype, which not every reader of JSON takes.
    return { value: structuredClone(node.toJSON()), issues: [] };
  } catch (error) {
    // The schema's own messages name the node or attribute that does not fit.
    const why = error instanceof Error ? error.message : 'it does not fit';
    return refused('document-not-valid', `The draft does not fit its schema: ${why}.`);
  }
}
