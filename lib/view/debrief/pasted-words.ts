/** What a word processor puts on the clipboard, made into what the draft's schema reads. */
import { joinedItems, listItem, withoutItemMarks } from './pasted-lists';

/** Signs of a list that stand as text before its words, for programs that know no lists. */
const MARKER = /<!(?:--)?\[if !supportLists\](?:--)?>([\s\S]*?)<!(?:--)?\[endif\](?:--)?>/gi;
const IGNORED =
  /<span\b[^>]*mso-list:\s*ignore[^>]*>(?:[^<]|<span\b[^>]*>[^<]*<\/span>)*<\/span>/gi;
/** A paragraph of a list: it says so in its style alone. */
const LIST_ITEM = /<p\b([^>]*mso-list:(?!\s*none)[^>]*)>([\s\S]*?)<\/p>/gi;
/** Parts that hold no words: comments, styles, scripts, and elements of the office's own namespaces. */
const WORDLESS =
  /<!--[\s\S]*?-->|<!\[[^\]>]*\]>|<(style|script|xml|title)\b[\s\S]*?<\/\1>|<\/?[ovw]:[^>]*>/gi;
/** What was struck out while changes were tracked: it says when. Other struck words stay struck. */
const DELETED = /<del\b[^>]*\bdatetime=[^>]*>[\s\S]*?<\/del>/gi;
/** `[AB1]` where a comment is, in the text or in the list of comments. */
const COMMENT_SIGN =
  /<a\b[^>]*(?:\bclass=["']?msocomanchor\b|\bhref=["']?#(?:_msocom_|cmnt))[^>]*>[\s\S]*?<\/a>/gi;
/** Comments of people on the text, which a word processor puts behind it; each element with its end. */
const COMMENT_START =
  /<(div)\b[^>]*mso-element:\s*comment-list[^>]*>|<(div)\b[^>]*>\s*<p\b[^>]*>\s*(?:<span\b[^>]*>\s*)?<a\b[^>]*\bhref=["']?#cmnt_ref/gi;
/** A paragraph with no-break spaces alone: how word processors leave a line empty. */
const BLANK_LINE = /<p\b[^>]*>(?:\s|\u00a0|&nbsp;|&#160;|<\/?(?:span|b|i|font)\b[^>]*>)*<\/p>/gi;
/** Headings below the third level, which a debrief does not have. */
const DEEP_HEADING = /<(\/?)h[4-6]\b[^>]*>/gi;

/** An element around all that was copied: it says `b` and means nothing by it. */
const UNBOLD = /<b\b[^>]*font-weight:\s*normal[^>]*>/gi;
/** Words that are bold or slanted by style alone, which a page without foreign styles does not see. */
const STYLED = /<span\b([^>]*)>((?:[^<]|<br\b[^>]*>)*)<\/span>/gi;

function emphasised(whole: string, attributes: string, words: string): string {
  const bold = /font-weight:\s*(?:bold|[6-9]00)/i.test(attributes);
  const slanted = /font-style:\s*italic/i.test(attributes);
  if (!bold && !slanted) return whole;
  const inner = slanted ? `<i>${words}</i>` : words;
  return bold ? `<b>${inner}</b>` : inner;
}

const plain = (html: string): string => html.replace(/<[^>]*>|&nbsp;|\s/g, '');

/** `1.`, `a)` and `iv.` count; any other sign is a bullet. */
const counts = (marker: string): boolean => /^\(?(?:\d+|[a-z]|[ivxlc]+)[.)]$/i.test(marker);

/** Where an element that starts at a place ends; the end of the text where it is never closed. */
function endOf(html: string, from: number, tag: string): number {
  const edge = new RegExp(`<(/?)${tag}\\b[^>]*>`, 'gi');
  edge.lastIndex = from;
  let open = 0;
  for (let match = edge.exec(html); match !== null; match = edge.exec(html)) {
    open += match[1] === '/' ? -1 : 1;
    if (open === 0) return edge.lastIndex;
  }
  return html.length;
}

/** The text without people's comments on it. */
function withoutComments(html: string): string {
  let kept = '';
  let at = 0;
  COMMENT_START.lastIndex = 0;
  for (;;) {
    COMMENT_START.lastIndex = at;
    const start = COMMENT_START.exec(html);
    if (start === null) break;
    kept += html.slice(at, start.index);
    at = endOf(html, start.index, 'div');
  }
  return `${kept}${html.slice(at)}`.replace(COMMENT_SIGN, '');
}

/**
 * Makes paragraphs that are items of a list into lists with their levels, and takes out what holds no
 * words of the text: styles, deleted words of tracked changes, comments, signs of lists.
 *
 * What the schema of a draft does not know (styles, pictures, fonts, scripts) the editor leaves out by itself.
 *
 * @param given HTML of the clipboard; of a program that is no office's little changes
 */
export function pastedWords(given: string): string {
  const html = withoutComments(withoutItemMarks(given)).replace(DELETED, '');
  const items = html.replace(LIST_ITEM, (_, attributes: string, inside: string) => {
    const marker = plain((inside.match(MARKER) ?? inside.match(IGNORED) ?? [''])[0] ?? '');
    const sign = marker.replace(/^<!.*?>/, '');
    const level = Number(/mso-list:[^;"']*\blevel(\d{1,2})/i.exec(attributes)?.[1] ?? 1);
    const words = inside.replace(MARKER, '').replace(IGNORED, '');
    return listItem(level, counts(sign) ? 'ol' : 'ul', `<p>${words}</p>`);
  });
  const cleaned = items
    .replace(MARKER, '')
    .replace(IGNORED, '')
    .replace(WORDLESS, '')
    .replace(BLANK_LINE, '')
    .replace(DEEP_HEADING, '<$1h3>')
    .replace(UNBOLD, '<span>')
    .replace(STYLED, emphasised);
  return joinedItems(cleaned);
}

/** How many pictures the clipboard holds: a draft takes none. */
export function picturesIn(html: string): number {
  const shown = html.replace(/<!--[\s\S]*?-->/g, '');
  return shown.match(/<(?:img|svg|v:imagedata)\b/gi)?.length ?? 0;
}

/** Said where files of another kind were all there was. */
export const FILES_LEFT_OUT = 'A file is no part of a debrief: nothing was put in.';

/** Said where a paste or a drop held pictures; null where it held none. */
export function leftOutText(pictures: number): string | null {
  if (pictures === 0) return null;
  const what = pictures === 1 ? 'A picture was' : `${pictures} pictures were`;
  return `${what} left out: the figures of a debrief are drawn from its data. Insert a trace or approach figure, or describe what is seen in words.`;
}
