/**
 * Words as WordprocessingML. What people wrote is content of text elements and nothing else: no field,
 * no markup, no template is made from it.
 *
 * Source: ECMA-376-1:2016, Office Open XML, 17.3 (paragraphs and runs), 17.16.22 (hyperlinks).
 */
import { escapeMarkup, plainText } from '../markup';
import { targetOf } from '../nodes/block-reference';
import type { Run, TextMark, Tone } from '../resolved';

/** What text can refer to outside of itself. */
export type DocxLinks = Readonly<{
  /** @returns the id of a relationship to an address on the web */
  link: (href: string) => string;
  /** @returns begin and end of a place that can be referred to; empty for one that has its name already */
  place: (id: string) => readonly [start: string, end: string];
}>;

/** A name as bookmarks may have it: a letter first, no hyphens, at most 40 characters. */
export const bookmarkName = (id: string): string =>
  `s_${id.replace(/[^a-z0-9]/g, '_')}`.slice(0, 40);

const MARKS: Readonly<Record<TextMark, string>> = {
  bold: '<w:b/>',
  italic: '<w:i/>',
  underline: '<w:u w:val="single"/>',
  strike: '<w:strike/>',
  code: '<w:rFonts w:ascii="Courier New" w:hAnsi="Courier New" w:cs="Courier New"/>',
};
/** Properties of a run stand in the order of the schema (17.3.2.28). */
const MARK_ORDER: readonly TextMark[] = ['code', 'bold', 'italic', 'strike', 'underline'];

const TONES: Readonly<Record<Tone, string>> = {
  beyond: '<w:color w:val="B34700"/>',
  inside: '<w:color w:val="00704F"/>',
  unsure: '<w:color w:val="74571A"/>',
  plain: '',
};

/** One run of words; ends of line in it are breaks. @param properties content of its `w:rPr` */
export function textRun(text: string, properties = ''): string {
  const lines = plainText(text).split('\n');
  const content = lines
    .map((line) => `<w:t xml:space="preserve">${escapeMarkup(line)}</w:t>`)
    .join('<w:br/>');
  const rPr = properties === '' ? '' : `<w:rPr>${properties}</w:rPr>`;
  return `<w:r>${rPr}${content}</w:r>`;
}

/** An address that word processors take: one that reads as such, of the web or of mail. */
function safeHref(href: string | null): string | null {
  if (href === null || !/^(https?:\/\/|mailto:)/i.test(href)) return null;
  try {
    return new URL(plainText(href)).href;
  } catch {
    return null; // no address: its words stay
  }
}

function markProperties(marks: readonly TextMark[], tone: Tone): string {
  const own = MARK_ORDER.filter((mark) => marks.includes(mark));
  const [before, after] = [
    own.filter((mark) => mark !== 'underline'),
    own.filter((mark) => mark === 'underline'),
  ];
  return [
    ...before.map((mark) => MARKS[mark]),
    TONES[tone],
    ...after.map((mark) => MARKS[mark]),
  ].join('');
}

/** A number of a caption follows it as a field; a section or finding is led to. 17.16.5.51 (REF). */
function referenceXml(target: string, words: string): string {
  const name = bookmarkName(target);
  const isCaption = />(Table|Figure) /.test(words);
  return isCaption
    ? `<w:fldSimple w:instr=" REF ${name} \\h ">${words}</w:fldSimple>`
    : `<w:hyperlink w:anchor="${name}">${words}</w:hyperlink>`;
}

/** Runs of a line, in a tone. */
export function runsXml(
  runs: readonly Run[],
  links: DocxLinks,
  tone: Tone = 'plain',
  bold: 'bold' | 'usual' = 'usual',
): string {
  const base: readonly TextMark[] = bold === 'bold' || tone === 'beyond' ? ['bold'] : [];
  return runs
    .map((run) => {
      if (run.kind === 'break') return '<w:r><w:br/></w:r>';
      if (run.kind === 'number') return textRun(run.text, markProperties(base, tone));
      const words = textRun(run.text, markProperties([...base, ...run.marks], tone));
      const target = targetOf(run);
      if (target !== null) return referenceXml(target, words);
      const href = safeHref(run.href);
      if (href === null) return words;
      return `<w:hyperlink r:id="${links.link(href)}">${words}</w:hyperlink>`;
    })
    .join('');
}

/** A paragraph. @param properties content of its `w:pPr` after the style */
export function paragraph(content: string, style: string, properties = ''): string {
  return `<w:p><w:pPr><w:pStyle w:val="${style}"/>${properties}</w:pPr>${content}</w:p>`;
}

/** A caption whose number is a field, so that lists of figures and tables find it. */
export function captionXml(
  kind: 'Table' | 'Figure',
  number: number | null,
  text: string,
  properties = '',
  [start, end]: ReturnType<DocxLinks['place']> = ['', ''],
): string {
  const field =
    number === null
      ? ''
      : `${start}${textRun(`${kind} `, '<w:b/>')}<w:fldSimple w:instr=" SEQ ${kind} \\* ARABIC ">${textRun(String(number), '<w:b/>')}</w:fldSimple>${end}${textRun('. ', '<w:b/>')}`;
  return paragraph(`${field}${textRun(text)}`, 'Caption', properties);
}
