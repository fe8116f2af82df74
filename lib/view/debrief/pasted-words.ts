/** What a word processor puts on the clipboard, made into what the draft's schema reads. */

/** Signs of a list that stand as text before its words, for programs that know no lists. */
const MARKER = /<!(?:--)?\[if !supportLists\](?:--)?>([\s\S]*?)<!(?:--)?\[endif\](?:--)?>/gi;
const IGNORED =
  /<span\b[^>]*mso-list:\s*ignore[^>]*>(?:[^<]|<span\b[^>]*>[^<]*<\/span>)*<\/span>/gi;
/** A paragraph of a list: it says so in its style alone. */
const LIST_ITEM = /<p\b[^>]*mso-list:(?!\s*none)[^>]*>([\s\S]*?)<\/p>/gi;
/** Parts that hold no words: comments, styles, scripts, and elements of the office's own namespaces. */
const WORDLESS =
  /<!--[\s\S]*?-->|<!\[[^\]>]*\]>|<(style|script|xml|title)\b[\s\S]*?<\/\1>|<\/?[ovw]:[^>]*>/gi;

const plain = (html: string): string => html.replace(/<[^>]*>|&nbsp;|\s/g, '');

/** `1.`, `a)` and `iv.` count; any other sign is a bullet. */
const counts = (marker: string): boolean => /^\(?(?:\d+|[a-z]|[ivxlc]+)[.)]$/i.test(marker);

/** Lists that follow one another as items of one, in order. */
function joined(html: string): string {
  return html.replace(/<\/(ul|ol)>\s*<\1>/g, '');
}

/**
 * Makes paragraphs that are items of a list into lists, and takes out what holds no words.
 *
 * Levels of a list become one level. What the schema of a draft does not know (styles, pictures, fonts,
 * scripts) the editor leaves out by itself.
 *
 * @param html of the clipboard; text that is no office program's comes back with its comments taken out
 */
export function pastedWords(html: string): string {
  const lists = html.replace(LIST_ITEM, (_, inside: string) => {
    const marker = plain((inside.match(MARKER) ?? inside.match(IGNORED) ?? [''])[0] ?? '');
    const sign = marker.replace(/^<!.*?>/, '');
    const words = inside.replace(MARKER, '').replace(IGNORED, '');
    const tag = counts(sign) ? 'ol' : 'ul';
    return `<${tag}><li><p>${words}</p></li></${tag}>`;
  });
  return joined(lists.replace(WORDLESS, ''));
}
