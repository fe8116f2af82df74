/**
 * What a word processor's file shows: its paragraphs, its pictures and the record inside.
 *
 * Source: ECMA-376-1:2016, 17.3 (paragraphs and runs), 17.16.18 (fields in pieces), 17.16.19 (simple
 * fields), 17.3.3.30 (symbols, clause from memory); 15.2.5 (custom XML data).
 */
import { SaxesParser } from 'saxes';
import { textOfBase64 } from '../base64-text';
import type { ShownLine } from '../shown-lines';

/** Parts of a package by name. */
export type ReadParts = ReadonlyMap<string, Uint8Array>;

/** Names of parts and of elements that carry the record. */
export const RECORD_PART = 'customXml/item1.xml';
export const RECORD_NAMESPACE = 'urn:wakeline:debrief-record';

/** Where the lines of headers and footers stand. */
export const IN_THE_MARGIN = 'in the margin';

/** Fields whose result the reader's program makes: pages are its own, as long as they are numbers. */
const COMPUTED = /^\s*(PAGE|NUMPAGES|PAGEREF)\b/;
const PAGE_NUMBER = /^\s*(?:\d{1,5}|[ivxlc]{1,9})?\s*$/i;

type Field = { code: string; isResult: boolean };

/** What of a part has been read so far. */
type Reading = {
  lines: ShownLine[];
  pictures: string[];
  where: string;
  text: string;
  style: string;
  inside: string;
  fields: Field[];
};

/** A sign given by its number; its font may draw it as any other. */
function symbolOf(hex = ''): string {
  return /^[0-9a-f]{1,4}$/i.test(hex) ? String.fromCharCode(Number.parseInt(hex, 16)) : '\ufffd';
}

function open(reading: Reading, name: string, attributes: Readonly<Record<string, string>>): void {
  const { fields } = reading;
  if (name === 'w:p') Object.assign(reading, { text: '', style: '' });
  if (name === 'w:pStyle') reading.style = attributes['w:val'] ?? '';
  if (name === 'w:t' || name === 'w:instrText') reading.inside = name;
  if (name === 'w:br' || name === 'w:tab' || name === 'w:cr') reading.text += ' ';
  if (name === 'w:sym') reading.text += symbolOf(attributes['w:char']);
  if (name === 'w:fldSimple') fields.push({ code: attributes['w:instr'] ?? '', isResult: true });
  if (name === 'a:blip') reading.pictures.push(attributes['r:embed'] ?? '');
  if (name === 'w:hyperlink') reading.text += `\u0000${attributes['r:id'] ?? ''}\u0000`;
  if (name !== 'w:fldChar') return;
  const kind = attributes['w:fldCharType'];
  if (kind === 'begin') fields.push({ code: '', isResult: false });
  const last = fields.at(-1);
  if (kind === 'separate' && last !== undefined) last.isResult = true;
  if (kind === 'end') fields.pop();
}

function close(reading: Reading, name: string): void {
  if (name === 'w:t' || name === 'w:instrText') reading.inside = '';
  if (name === 'w:fldSimple') reading.fields.pop();
  if (name !== 'w:p') return;
  const heading = reading.text.replace(/\u0000[^\u0000]*\u0000/g, '').trim();
  if (/^(Heading\d|Title)$/.test(reading.style)) reading.where = `under "${heading}"`;
  reading.lines.push({ text: reading.text, where: reading.where });
  reading.text = '';
}

function takeText(reading: Reading, text: string): void {
  const last = reading.fields.at(-1);
  if (reading.inside === 'w:instrText' && last !== undefined) last.code += text;
  const isComputed = reading.fields.some(({ code }) => COMPUTED.test(code));
  if (reading.inside === 'w:t' && !(isComputed && PAGE_NUMBER.test(text))) reading.text += text;
}

/** @throws where the part is not well-formed */
function readPart(xml: string, where: string): Reading {
  const reading: Reading = {
    lines: [],
    pictures: [],
    where,
    text: '',
    style: '',
    inside: '',
    fields: [],
  };
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => open(reading, name, attributes));
  parser.on('closetag', ({ name }) => close(reading, name));
  parser.on('text', (text) => takeText(reading, text));
  parser.write(xml).close();
  return reading;
}

const decoded = (bytes: Uint8Array | undefined): string =>
  bytes === undefined ? '' : new TextDecoder().decode(bytes);

function relationsOf(parts: ReadParts): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const xml = decoded(parts.get('word/_rels/document.xml.rels'));
  if (xml === '') return found;
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ attributes }) => {
    if (attributes.Id !== undefined) found.set(attributes.Id, attributes.Target ?? '');
  });
  parser.write(xml).close();
  return found;
}

/** What the file shows, in order. */
export type ShownDocx = Readonly<{
  lines: readonly ShownLine[];
  pictures: readonly (Uint8Array | undefined)[];
}>;

/**
 * Words and pictures of a file, header and footer last. An address stands before the words it is of.
 *
 * @throws where a part is not well-formed XML
 */
export function shownDocx(parts: ReadParts): ShownDocx {
  const relations = relationsOf(parts);
  const running = [...parts.keys()].filter((name) => /^word\/(header|footer)\d*\.xml$/.test(name));
  const body = readPart(decoded(parts.get('word/document.xml')), 'at the head');
  const around = running.sort().map((name) => readPart(decoded(parts.get(name)), IN_THE_MARGIN));
  const lines = [body, ...around].flatMap(({ lines: own }) => own);
  return {
    lines: lines.map(({ text, where }) => ({
      text: text.replace(/\u0000([^\u0000]*)\u0000/g, (_, id: string) => {
        const target = relations.get(id);
        return target === undefined ? '' : `<${target}> `;
      }),
      where,
    })),
    pictures: body.pictures.map((id) => parts.get(`word/${relations.get(id) ?? ''}`)),
  };
}

/** The record as it travels in the file; null where there is none. A program that saves it may rename the part. */
export function recordInDocx(parts: ReadParts): string | null {
  for (const [name, bytes] of parts) {
    if (!/^customXml\/item\d+\.xml$/.test(name)) continue;
    const xml = decoded(bytes);
    const inside = /<(?:\w+:)?record\b[^>]*>([A-Za-z0-9+/=\s]+)</.exec(xml)?.[1];
    if (xml.includes(RECORD_NAMESPACE) && inside !== undefined) return textOfBase64(inside);
  }
  return null;
}
