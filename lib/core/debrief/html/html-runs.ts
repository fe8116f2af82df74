/** Words, numbers and breaks as HTML. A number opens its evidence. */

import { sessionTimeText } from '../../time/session-time-text';
import { formatNumber } from '../../units/number-text';
import { channelWords } from '../column-label';
import { type Basis, basisRows } from '../imprint-rows';
import { keepPunctuation } from '../kept-punctuation';
import { keyWords } from '../key-words';
import { escapeMarkup } from '../markup';
import type {
  DocumentSource,
  EvidenceEntry,
  FigureBlock,
  NumberRun,
  Run,
  TextMark,
  TextRun,
} from '../resolved';

const MARK_TAG: Readonly<Record<TextMark, string>> = {
  bold: 'strong',
  italic: 'em',
  underline: 'u',
  strike: 's',
  code: 'code',
};

/** Links go to the web, to a mail program or to a block of the page, and nowhere else. */
function safeHref(href: string | null): string | null {
  return href !== null && /^(https?:\/\/|mailto:|#[a-z0-9-]+$)/i.test(href) ? href : null;
}

function textHtml(run: TextRun): string {
  const inner = run.marks.reduce(
    (html, mark) => `<${MARK_TAG[mark]}>${html}</${MARK_TAG[mark]}>`,
    escapeMarkup(run.text),
  );
  const href = safeHref(run.href);
  return href === null
    ? inner
    : `<a href="${escapeMarkup(href)}" rel="noopener noreferrer nofollow">${inner}</a>`;
}

/** What evidence is stated with: the document's lists, and what all of it was computed with. */
export type EvidenceLists = Readonly<{
  evidence: readonly EvidenceEntry[];
  sources: readonly DocumentSource[];
  basis?: Basis;
}>;

function spread(value: number | null): string {
  return value === null ? 'not known' : String(Number(value.toPrecision(3)));
}

function row(name: string, text: string): string {
  return text === '' ? '' : `<dt>${name}</dt><dd>${escapeMarkup(text)}</dd>`;
}

/** What numbers and pictures alike state: method, stretch, channels, files. */
function entryRows(entry: EvidenceEntry, lists: EvidenceLists): string {
  const files = entry.sources.flatMap((index) => {
    const source = lists.sources[index];
    return source === undefined
      ? []
      : [`${source.file} (SHA-256 ${source.sha256.slice(0, 16)}\u2026)`];
  });
  const stretch =
    entry.fromS === null || entry.toS === null
      ? ''
      : `${sessionTimeText(entry.fromS, 3)} to ${sessionTimeText(entry.toS, 3)}`;
  return [
    row('Method', entry.method),
    row('Set by people', (entry.people ?? []).join(' ')),
    row('Reason', entry.reason ?? ''),
    row('Stretch', stretch),
    row('Channels', entry.channels.map(channelWords).join(', ')),
    row('Sources', files.join('; ')),
  ].join('');
}

/** The evidence of one number as a list of names and values. */
export function evidenceHtml(run: NumberRun, lists: EvidenceLists): string {
  const entry = lists.evidence[run.evidence];
  if (entry === undefined) return '';
  const unit = run.unit === '1' ? '' : ` ${run.unit}`;
  const known = run.random95 !== null || run.systematic95 !== null;
  const uncertainty = known
    ? `random ${spread(run.random95)}, systematic ${spread(run.systematic95)}${unit}`
    : '';
  return [
    '<dl class="evidence">',
    row('Figure', run.key === null ? '' : keyWords(run.key)),
    row(
      'Value',
      run.value === null
        ? 'not known'
        : `${formatNumber(run.value, 12).replace(/\.?0+$/, '')}${unit}`,
    ),
    row('95 % half-width', uncertainty),
    entryRows(entry, lists),
    row('Key', run.key ?? ''),
    '</dl>',
  ].join('');
}

/** The evidence of a picture, which opens as that of a number does; nothing where it states none. */
export function figureEvidenceHtml({ evidence }: FigureBlock, lists: EvidenceLists): string {
  const entry = evidence === undefined ? undefined : lists.evidence[evidence];
  if (entry === undefined) return '';
  const basis = lists.basis === undefined ? [] : basisRows(lists.basis);
  const rows = [entryRows(entry, lists), ...basis.map(([name, text]) => row(name, text))];
  return `<details class="evidence"><summary>Evidence</summary><dl>${rows.join('')}</dl></details>`;
}

function numberHtml(run: NumberRun, lists: EvidenceLists): string {
  const face = /\d/.test(run.text) ? 'number' : 'number word';
  // A wide table on paper may part a value from its half-width; nowhere else does it break.
  const text = escapeMarkup(run.text).replace('\u00a0\u00b1', '\u00a0<wbr>\u00b1');
  return `<details class="${face}"><summary>${text}</summary>${evidenceHtml(run, lists)}</details>`;
}

/** Runs in order. */
export function runsHtml(runs: readonly Run[], lists: EvidenceLists): string {
  return keepPunctuation(runs)
    .map(({ run, after }) => {
      if (run.kind === 'break') return '<br>';
      if (run.kind === 'text') return textHtml(run);
      const number = numberHtml(run, lists);
      return after === '' ? number : `<span class="keep">${number}${escapeMarkup(after)}</span>`;
    })
    .join('');
}

/** Runs as plain words, for contents and names. */
export function runsText(runs: readonly Run[]): string {
  return runs.map((run) => (run.kind === 'break' ? ' ' : run.text)).join('');
}
