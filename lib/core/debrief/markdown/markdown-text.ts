/**
 * Words as Markdown that shows them and does nothing else: no markup, address, formula, entity or
 * template is made from what a person or a file wrote.
 *
 * Source: CommonMark Spec 0.31.2 (2024), 2.4 (backslash escapes), 6.1 (code spans), 6.2 (emphasis);
 * GitHub Flavored Markdown Spec 0.29 (2019), 4.10 (tables), 6.9 (autolinks).
 */
import { BLOCK_ID } from '../document';
import { escapeMarkup, plainText } from '../markup';
import { targetOf } from '../nodes/block-reference';
import type { Run, TextMark, TextRun } from '../resolved';

/** Signs that mean something anywhere in a line, to Markdown or to what is run over Markdown. */
const ANYWHERE = /[\\`*_{}[\]<>#|~&$@^]/g;
/** Ends of addresses and names of pictograms that some readers act on although nobody marked them. */
const COLON = /:(?=[A-Za-z+/-])/g;
const WWW = /\bwww\./gi;
/** An exclamation mark that a link may follow would make a picture of it, which readers load. */
const LAST_MARK = /!$/;

/** One line of words. White space in it is one blank, as it is read anyhow. */
export function markdownText(text: string): string {
  return plainText(text)
    .replace(/[\t\n ]+/g, ' ')
    .replace(ANYWHERE, '\\$&')
    .replace(COLON, '\\:')
    .replace(LAST_MARK, '\\!')
    .replace(WWW, (found) => found.replace('.', '\\.'));
}

/** A line whose beginning is no list, no heading and no rule. @param line as the functions here write it */
export function lineStart(line: string): string {
  return line
    .replace(/^ +/, '')
    .replace(/^[-+=]/, '\\$&')
    .replace(/^(\d{1,9})([.)])/, '$1\\$2');
}

const TAGS: Readonly<Record<TextMark, string>> = {
  bold: 'strong',
  italic: 'em',
  underline: 'u',
  strike: 's',
  code: 'code',
};
const SIGNS: Partial<Readonly<Record<TextMark, string>>> = {
  bold: '**',
  italic: '*',
  strike: '~~',
};

/** Signs of emphasis hold at letters and digits alone; elsewhere an element says the same. */
function marked(inner: string, mark: TextMark, stands: 'alone' | 'between'): string {
  if (
    mark === 'code' &&
    stands === 'alone' &&
    /^[\w .,;/=-]+$/.test(inner) &&
    inner.trim() === inner
  )
    return `\`${inner}\``;
  const sign = SIGNS[mark];
  const fits = /^[\p{L}\p{N}]/u.test(inner) && /[\p{L}\p{N}]$/u.test(inner);
  if (sign !== undefined && fits && stands === 'alone') return `${sign}${inner}${sign}`;
  return `<${TAGS[mark]}>${inner}</${TAGS[mark]}>`;
}

/** An address in which no sign ends it or is read as anything else. */
function markdownHref(href: string): string {
  return plainText(href)
    .replace(/[\s<>\\"'`|{}()[\]^*_~$\ufffd]/g, (sign) => encodeURIComponent(sign))
    .replace(/['()*~]/g, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`)
    .replaceAll('&', '&amp;');
}

function textRun(run: TextRun, stands: 'alone' | 'between'): string {
  const words = markdownText(run.text);
  const own = run.marks.length === 1 ? stands : 'between';
  const inner = run.marks.reduce((text, mark) => marked(text, mark, own), words);
  const target = targetOf(run);
  if (target !== null && BLOCK_ID.test(target)) return `[${inner}](#${target})`;
  const isSafe = run.href !== null && /^(https?:\/\/|mailto:)/i.test(run.href);
  return isSafe ? `[${inner}](${markdownHref(run.href ?? '')})` : inner;
}

const isMarked = (run: Run | undefined) => run?.kind === 'text' && run.marks.length > 0;

/** Whether a word goes on across the edge of a run, where a sign of emphasis might not hold. */
const joins = (before: string, after: string) => /\S$/.test(before) && /^\S/.test(after);

const shown = (run: Run | undefined) => (run === undefined || run.kind === 'break' ? '' : run.text);

/**
 * Runs as one line, or as several that break.
 *
 * @param breaks what a break is written as: a line that goes on, or an element within a table
 */
export function markdownRuns(runs: readonly Run[], breaks: '\\\n' | '<br>'): string {
  const parts = runs.map((run, at) => {
    if (run.kind === 'break') return breaks;
    if (run.kind === 'number') return markdownText(run.text);
    const [before, after] = [runs[at - 1], runs[at + 1]];
    const between =
      isMarked(before) ||
      isMarked(after) ||
      joins(shown(before), run.text) ||
      joins(run.text, shown(after));
    return textRun(run, between ? 'between' : 'alone');
  });
  return parts.join('').trim();
}

/** A block of code, whatever it holds. */
export function markdownCode(text: string): string {
  const plain = plainText(text);
  if (/\{[{%#]/.test(plain)) {
    const shownText = escapeMarkup(text).replaceAll('{', '&#123;');
    return `<pre><code>${shownText}</code></pre>`;
  }
  const longest = (plain.match(/`+/g) ?? []).reduce(
    (most, { length }) => Math.max(most, length),
    2,
  );
  const fence = '`'.repeat(longest + 1);
  return `${fence}\n${plain}\n${fence}`;
}
