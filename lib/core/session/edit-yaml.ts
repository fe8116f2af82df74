/** One change of a YAML file's content that leaves the rest of its text, comments too, as it is. */
import {
  type Document,
  isAlias,
  isCollection,
  isNode,
  isScalar,
  isSeq,
  parseDocument,
  visit,
} from 'yaml';
import type { KeyPath } from './yaml-text';

/** `insert`, `move` and `remove` in a list count from 0; `move` names the place it has afterwards. */
export type YamlEdit =
  | Readonly<{ op: 'set'; path: KeyPath; value: unknown }>
  | Readonly<{ op: 'remove'; path: KeyPath }>
  | Readonly<{ op: 'insert'; path: KeyPath; index: number; value: unknown }>
  | Readonly<{ op: 'move'; path: KeyPath; from: number; to: number }>;

/** Words that YAML would not take for text, and what needs quotes to be text anywhere. */
const PLAIN = /^[A-Za-z][A-Za-z0-9_./-]*(?: [A-Za-z0-9_./-]+)*$/;
const NOT_TEXT = /^(?:true|false|null|yes|no|on|off|y|n)$/i;

function scalarText(value: unknown): string {
  if (typeof value !== 'string') return JSON.stringify(value ?? null);
  return PLAIN.test(value) && !NOT_TEXT.test(value) ? value : JSON.stringify(value);
}

function isPlainValue(value: unknown): boolean {
  return value === null || ['string', 'number', 'boolean'].includes(typeof value);
}

/** Profiles and pairs stand in one line. */
function asNode(document: Document, value: unknown) {
  const node = document.createNode(value);
  visit(node, {
    Seq: (_key, seq) => {
      const isRow = (item: unknown): boolean =>
        isScalar(item) || (isSeq(item) && item.items.every((inner) => isScalar(inner)));
      if (seq.items.every(isRow)) seq.flow = true;
    },
  });
  return node;
}

/** A scalar in place of a scalar: only its own letters change. */
function splicedScalar(document: Document, text: string, edit: YamlEdit): string | null {
  if (edit.op !== 'set' || !isPlainValue(edit.value)) return null;
  const node = document.getIn(edit.path, true);
  if (!isScalar(node) || !node.range || node.anchor !== undefined) return null;
  const [start, end] = node.range;
  if (start === end || /^[|>]/.test(text.slice(start, end))) return null;
  return `${text.slice(0, start)}${scalarText(edit.value)}${text.slice(end)}`;
}

/** A comment over the first item is read as one over the list: it goes where its item goes. */
function giveCommentToFirst(list: unknown): void {
  if (!isSeq(list) || list.flow === true) return;
  const [first] = list.items;
  if (!isNode(first) || !list.commentBefore) return;
  first.commentBefore = list.commentBefore;
  list.commentBefore = null;
}

function carryOut(document: Document, edit: YamlEdit): void {
  const { path } = edit;
  giveCommentToFirst(document.getIn(edit.op === 'remove' ? path.slice(0, -1) : path, true));
  if (edit.op === 'set') document.setIn(path, asNode(document, edit.value));
  else if (edit.op === 'remove') document.deleteIn(path);
  else {
    const list = document.getIn(path, true);
    if (!isSeq(list)) {
      if (edit.op === 'insert') document.setIn(path, asNode(document, [edit.value]));
      return;
    }
    if (edit.op === 'insert') list.items.splice(edit.index, 0, asNode(document, edit.value));
    else {
      const [item] = list.items.splice(edit.from, 1);
      if (item !== undefined) list.items.splice(edit.to, 0, item);
    }
    // A list that was empty was written as []; rules do not stay in one line.
    if (isCollection(list.items[0]) && list.items.length === 1) list.flow = false;
  }
}

/**
 * Carries one edit out on the text of a YAML or JSON file.
 *
 * @param text the file; it need not fit any schema
 * @returns the new text; null where the text cannot be read as YAML, or the path leads through an alias
 */
export function editYaml(text: string, edit: YamlEdit): string | null {
  const document = parseDocument(text, { uniqueKeys: false, logLevel: 'error' });
  if (document.errors.length > 0) return null;
  for (let length = 1; length <= edit.path.length; length += 1) {
    if (isAlias(document.getIn(edit.path.slice(0, length), true))) return null;
  }
  const spliced = splicedScalar(document, text, edit);
  if (spliced !== null) return spliced;
  try {
    carryOut(document, edit);
  } catch {
    // A path through something that holds nothing: the form never makes one.
    return null;
  }
  return document.toString({ lineWidth: 0 });
}
