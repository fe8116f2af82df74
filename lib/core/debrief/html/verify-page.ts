/** An exported page against the record that it carries: every number, word, drawing and piece of evidence. */
import { textOfBase64 } from '../base64-text';
import type { DebriefRecord } from '../record';
import { sealRecord } from '../record';
import { MOST_NAMED } from '../shown-lines';
import { type VerifiedRecord, type VerifyLine, verifyRecord } from '../verify-record';
import type { EmbeddedFont } from './html-style';
import { elementsOf, type PageNode, readPage, textOf } from './page-tree';
import { renderHtml } from './render-html';

export type VerifiedPage = VerifiedRecord & Readonly<{ numbers: number }>;

const FACE =
  /@font-face\{font-family:"(IBM Plex Sans|IBM Plex Mono)";font-weight:(400|600);font-style:(normal|italic);font-display:swap;src:url\(data:font\/woff2;base64,([A-Za-z0-9+/=]+)\) format\("woff2"\)\}/g;

/** The faces that a page carries: they are no part of its record. */
function fontsOf(style: string): readonly EmbeddedFont[] {
  return [...style.matchAll(FACE)].map(([, family, weight, slant, woff2Base64 = '']) => ({
    family: family === 'IBM Plex Mono' ? 'IBM Plex Mono' : 'IBM Plex Sans',
    weight: weight === '600' ? 600 : 400,
    style: slant === 'italic' ? 'italic' : 'normal',
    woff2Base64,
  }));
}

/** What one part of a page shows, apart from how it is marked up. */
type Shown = Readonly<{
  numbers: readonly string[];
  words: string;
  evidence: readonly string[];
  drawings: readonly string[];
}>;

const tight = (text: string): string => text.replace(/\s+/g, '');

function without(node: PageNode, isLeftOut: (node: PageNode) => boolean): string {
  if (isLeftOut(node)) return '';
  return node.text + node.children.map((child) => without(child, isLeftOut)).join('');
}

const isEvidence = (node: PageNode): boolean => node.attributes.class === 'evidence';

/** What a number reads as; the evidence of a picture opens too, and is none. */
const numbersIn = (nodes: readonly PageNode[]): readonly string[] =>
  nodes
    .filter(({ tag, attributes }) => tag === 'details' && attributes.class !== 'evidence')
    .flatMap((node) => node.children.filter(({ tag }) => tag === 'summary').map(textOf));

function drawn(node: PageNode): string {
  return JSON.stringify([node.tag, node.attributes, node.text, node.children.map(drawn)]);
}

function shownIn(part: PageNode): Shown {
  const inside = [part, ...elementsOf(part)];
  return {
    numbers: numbersIn(inside),
    words: tight(without(part, (node) => node.tag === 'svg' || isEvidence(node))),
    evidence: inside.filter(isEvidence).map((node) => tight(textOf(node))),
    drawings: inside.filter(({ tag }) => tag === 'svg').map(drawn),
  };
}

function partsOf(page: PageNode): readonly PageNode[] {
  const main = elementsOf(page).find(({ tag }) => tag === 'main');
  return (main?.children ?? []).filter(({ tag }) => tag !== '' && tag !== 'script');
}

/** The first few characters around the place where two texts part. */
function around(a: string, b: string): readonly [string, string] {
  let at = 0;
  while (at < a.length && at < b.length && a[at] === b[at]) at += 1;
  const from = Math.max(0, at - 20);
  return [a.slice(from, at + 20), b.slice(from, at + 20)];
}

function partDifferences(is: Shown, meant: Shown, where: string): readonly VerifyLine[] {
  const lines: VerifyLine[] = [];
  const differs = (text: string) => lines.push({ gravity: 'differs', text: `${where}: ${text}` });
  meant.numbers.forEach((number, index) => {
    const said = is.numbers[index];
    if (said !== number) differs(`shows "${said ?? 'nothing'}", the record has "${number}"`);
  });
  if (is.numbers.length > meant.numbers.length) differs('shows more numbers than the record has');
  if (lines.length === 0 && is.words !== meant.words) {
    const [said, right] = around(is.words, meant.words);
    differs(`says "...${said}...", the record has "...${right}..."`);
  }
  meant.evidence.forEach((text, index) => {
    const said = is.evidence[index] ?? '';
    if (said === text) return;
    const [shown, right] = around(said, text);
    const number = is.numbers[index];
    const of = number === undefined ? 'the figure' : `"${number}"`;
    differs(`the evidence of ${of} says "...${shown}...", not "...${right}..."`);
  });
  if (JSON.stringify(is.drawings) !== JSON.stringify(meant.drawings)) {
    differs('its drawing is not that of the points in the record');
  }
  return lines;
}

function compare(page: PageNode, meant: PageNode): readonly VerifyLine[] {
  const [parts, wanted] = [partsOf(page), partsOf(meant)];
  const lines: VerifyLine[] = [];
  if (parts.length !== wanted.length) {
    const text = `the page has ${parts.length} parts, its record makes ${wanted.length}`;
    lines.push({ gravity: 'differs', text });
  }
  let where = 'at the head';
  wanted.forEach((want, index) => {
    const part = parts[index];
    if (part === undefined) return;
    if (/^h[2-4]$/.test(want.tag)) where = `under "${textOf(want).trim()}"`;
    if (want.tag === 'footer') where = 'under "Record"';
    lines.push(...partDifferences(shownIn(part), shownIn(want), where));
  });
  return lines.slice(0, MOST_NAMED);
}

function againstRecord(
  html: string,
  page: PageNode,
  record: DebriefRecord,
  engine: string,
): readonly VerifyLine[] {
  const style = elementsOf(page).find(({ tag }) => tag === 'style');
  const meant = renderHtml(sealRecord(record), fontsOf(style === undefined ? '' : textOf(style)));
  if (meant === html) return [];
  const lines = compare(page, readPage(meant));
  if (record.engine === engine) {
    return lines.length > 0
      ? lines
      : [{ gravity: 'differs', text: 'its markup, style or script is not what its record makes' }];
  }
  const other = `the page was written by version ${record.engine}, this is ${engine}`;
  const note: VerifyLine = {
    gravity: 'note',
    text: `${other}: markup, style, script and how evidence and figures are drawn may differ for that alone and were not held against the record`,
  };
  const isLayout = ({ text }: VerifyLine) => /its drawing is not|the evidence of/.test(text);
  return [...lines.filter((line) => !isLayout(line)), note];
}

/**
 * Checks an exported page.
 *
 * @param html the whole file
 * @param engine version of this program's numerics: pages of the same version are the same to the byte
 * @param published the hash that the publisher's list gives, where the reader has it
 * @returns `record` null where the file carries none
 */
export function verifyPage(html: string, engine: string, published: string | null): VerifiedPage {
  const page = readPage(html);
  const byId = (id: string) => elementsOf(page).find(({ attributes }) => attributes.id === id);
  const [carrier, said] = [byId('record'), byId('sha256')];
  const text = carrier === undefined ? null : textOfBase64(textOf(carrier));
  if (text === null || said === undefined) {
    const unusable = 'no exported debrief: it carries no record that can be read';
    return { record: null, unusable, sha256: '', lines: [], numbers: 0 };
  }
  const claims = [
    { by: 'the page', sha256: textOf(said).trim() },
    ...(published === null ? [] : [{ by: 'the hash that was given', sha256: published }]),
  ];
  const verified = verifyRecord(text, claims);
  const numbers = numbersIn(elementsOf(page)).length;
  if (verified.record === null) return { ...verified, numbers };
  const lines = [...verified.lines, ...againstRecord(html, page, verified.record, engine)];
  return { ...verified, lines, numbers };
}
