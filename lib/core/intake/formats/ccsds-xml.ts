/** CCSDS navigation messages in XML. No document type, no entities, bounded depth. */
import { SaxesParser } from 'saxes';
import type { Issue } from '../../result';
import { CCSDS_KINDS, type CcsdsKind, isMetadataKeyword } from './ccsds-keywords';
import type { CcsdsEntry, CcsdsFound, CcsdsRow, CcsdsSegment } from './ccsds-segment';

/** Elements nest this deep at most; the schemas need seven levels. */
const MOST_DEPTH = 32;

/** Elements that hold one row of data. */
const ROWS: ReadonlySet<string> = new Set(['observation', 'stateVector', 'attitudeState']);

type Element = { name: string; line: number; text: string; hasChildren: boolean };
type Row = { line: number; stamp: string; cells: [keyword: string, text: string][] };
type Open = { -readonly [K in keyof CcsdsSegment]: CcsdsSegment[K] } & {
  metadata: CcsdsEntry[];
  rows: CcsdsRow[];
  comments: string[];
};

/** What is gathered on the way through the document. */
class Gathering {
  kind: CcsdsKind | null = null;
  version = '';
  readonly header: CcsdsEntry[] = [];
  readonly comments: string[] = [];
  readonly segments: Open[] = [];
  readonly issues: Issue[] = [];
  /** After the first fault of form the rest of the document tells nothing. */
  isOver = false;
  private readonly stack: Element[] = [];
  private row: Row | null = null;

  stop(fault: Omit<Issue, 'severity' | 'file'>): void {
    if (!this.isOver) this.issues.push({ severity: 'error', ...fault });
    this.isOver = true;
  }

  open(name: string, version: string | undefined, line: number): void {
    const parent = this.stack.at(-1);
    if (parent !== undefined) parent.hasChildren = true;
    if (this.stack.length >= MOST_DEPTH) {
      const message = `elements nest deeper than ${MOST_DEPTH} levels`;
      this.stop({ code: 'xml-too-deep', line, message });
      return;
    }
    this.stack.push({ name, line, text: '', hasChildren: false });
    const kind = CCSDS_KINDS.find((each) => each.toLowerCase() === name);
    if (kind !== undefined) this.start(kind, version ?? '', line);
    if (name === 'segment') {
      this.segments.push({ line, metadata: [], rows: [], comments: [], covarianceCount: 0 });
    } else if (ROWS.has(name)) this.row = { line, stamp: '', cells: [] };
    else if (name === 'covarianceMatrix') {
      const segment = this.segments.at(-1);
      if (segment !== undefined) segment.covarianceCount += 1;
    }
  }

  private start(kind: CcsdsKind, version: string, line: number): void {
    if (this.kind !== null && this.kind !== kind) {
      const message = `holds a ${kind} beside a ${this.kind}; put each message in a file of its own`;
      this.stop({ code: 'message-mixed', line, message });
    }
    this.kind = kind;
    this.version = version;
  }

  text(text: string): void {
    const element = this.stack.at(-1);
    if (element !== undefined) element.text += text;
  }

  close(): void {
    const element = this.stack.pop();
    if (element === undefined) return;
    const segment = this.segments.at(-1);
    if (ROWS.has(element.name) && this.row !== null) {
      segment?.rows.push(this.row);
      this.row = null;
    } else if (!element.hasChildren) this.leaf(element, segment ?? null);
  }

  private leaf({ name, line, text }: Element, segment: Open | null): void {
    const value = text.trim();
    const parents = this.stack.map((element) => element.name);
    if (name === 'COMMENT') (segment ?? this).comments.push(value);
    else if (this.row !== null) {
      if (name === 'EPOCH') this.row.stamp = value;
      else this.row.cells.push([name, value]);
    } else if (parents.includes('metadata')) this.metadata({ keyword: name, value, line }, segment);
    else if (parents.includes('header')) this.header.push({ keyword: name, value, line });
  }

  private metadata(entry: CcsdsEntry, segment: Open | null): void {
    const { kind } = this;
    if (kind !== null && !isMetadataKeyword(kind, entry.keyword)) {
      this.issues.push({
        code: 'keyword-unknown',
        severity: 'error',
        line: entry.line,
        message: `"${entry.keyword}" is no keyword of the metadata of a ${kind}`,
        received: entry.keyword,
      });
    } else segment?.metadata.push(entry);
  }
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/**
 * Reads a message in XML.
 *
 * @returns the message with everything as written; null where the document is not well formed, has a
 *   document type, nests too deep, or is none of TDM, OEM, AEM
 *
 * Source: CCSDS 505.0-B-3; element names are the keywords.
 */
export function readCcsdsXml(text: string): CcsdsFound {
  const found = new Gathering();
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    const message = `is no well-formed XML: ${error.message.replace(/^\d+:\d+: /, '')}`;
    found.stop({ code: 'xml-not-well-formed', line: parser.line, message });
  });
  parser.on('doctype', () => {
    const message = 'has a document type declaration, which no message needs and which is not read';
    found.stop({ code: 'xml-doctype', line: parser.line, message });
  });
  parser.on('opentag', (tag) => {
    if (!found.isOver) found.open(localName(tag.name), tag.attributes.version, parser.line);
  });
  parser.on('text', (part) => found.text(part));
  parser.on('cdata', (part) => found.text(part));
  parser.on('closetag', () => {
    if (!found.isOver) found.close();
  });
  parser.write(text).close();
  const { kind, version, header, comments, segments } = found;
  if (kind === null && !found.isOver) {
    const message = 'is XML, but no TDM, OEM or AEM; of XML only these CCSDS messages are read';
    found.stop({ code: 'message-unknown', line: 1, message, expected: 'tdm, oem or aem' });
  }
  if (kind === null || found.isOver) return { message: null, issues: found.issues };
  return { message: { kind, version, header, comments, segments }, issues: found.issues };
}
