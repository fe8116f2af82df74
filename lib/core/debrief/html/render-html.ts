/** A record as one HTML page that loads nothing and checks itself. */

import { base64OfText } from '../base64-text';
import { imprintRows } from '../imprint-rows';
import { escapeMarkup } from '../markup';
import { strangerCommands } from '../package/stranger-commands';
import { type DebriefRecord, recordLabel, type SealedRecord } from '../record';
import { policyHash } from '../sha256';
import { FIGURE_ZOOM } from './figure-zoom-script';
import { blockHtml } from './html-blocks';
import { runsText } from './html-runs';
import { type EmbeddedFont, pageStyle } from './html-style';
import { PAGE_CHECK } from './page-check';

const HEAD = ['Session', 'Session time starts', 'Published', 'Supersedes', 'Reason'];
const FOOT = [
  'Plan',
  'Rules',
  'Template',
  'Numerics',
  'Approvals',
  'Approved content',
  'Signed with',
  'SHA-256',
];

function imprintHtml(sealed: SealedRecord, wanted: readonly string[]): string {
  const rows = imprintRows(sealed).filter(([name]) => wanted.includes(name));
  const html = rows.map(([name, text]) => {
    const id = name === 'SHA-256' ? ' id="sha256" class="mono"' : '';
    return `<dt>${name}</dt><dd${id}>${escapeMarkup(text)}</dd>`;
  });
  return `<dl class="imprint">${html.join('')}</dl>`;
}

function contentsHtml({ record }: SealedRecord): string {
  if (record.standing === 'preliminary') return '';
  const entries = record.blocks.flatMap((block) =>
    block.kind === 'heading' && block.level === 1
      ? [
          `<li><a href="#${escapeMarkup(block.id)}">${block.number} ${escapeMarkup(runsText(block.runs))}</a></li>`,
        ]
      : [],
  );
  return entries.length < 3 ? '' : `<nav aria-label="Contents"><ol>${entries.join('')}</ol></nav>`;
}

/** How a stranger checks the publication that the page belongs to; nothing for what is not signed. */
function strangerHtml(record: DebriefRecord): string {
  if (record.signer === undefined) return '';
  const items = strangerCommands(record).map(
    ({ what, command }) =>
      `<li>${escapeMarkup(what)}:<br><code>${escapeMarkup(command)}</code></li>`,
  );
  return `<h3>Checking without this program</h3><p>With all files of this publication saved in one folder:</p><ol>${items.join('')}</ol>`;
}

/**
 * The exported page, from the record alone.
 *
 * The policy in its head allows the one style sheet and the two scripts by their hashes, and nothing
 * from a network. The record travels inside as base64, so that its bytes stay what was hashed.
 *
 * @param sealed record, canonical JSON and hash
 * @param fonts faces to embed; none for the reader's own fonts
 * @returns a whole document; the same text for the same record and fonts
 */
export function renderHtml(sealed: SealedRecord, fonts: readonly EmbeddedFont[]): string {
  const { record } = sealed;
  const style = pageStyle(fonts);
  const policy = `default-src 'none'; style-src '${policyHash(style)}'; script-src '${policyHash(PAGE_CHECK)}' '${policyHash(FIGURE_ZOOM)}'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'`;
  const title = escapeMarkup(record.title);
  const label = escapeMarkup(recordLabel(record));
  const sources = record.sources
    .map(
      (source) =>
        `<dt>${escapeMarkup(source.file)}</dt><dd class="mono">${escapeMarkup(source.sha256)}</dd>`,
    )
    .join('');
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${title} \u2013 ${label}</title><style>${style}</style></head><body>${record.standing === 'preliminary' ? '<main class="quick">' : '<main>'}`,
    record.banner === null ? '' : `<p class="banner">${escapeMarkup(record.banner)}</p>`,
    `<header><p class="label">${label}</p><h1>${title}</h1>`,
    imprintHtml(sealed, record.approvals.length === 0 ? HEAD : [...HEAD, 'Approvals']),
    `<p class="caution">${escapeMarkup(record.caution)}</p>${contentsHtml(sealed)}</header>`,
    ...record.blocks.map((block) => blockHtml(block, { ...record, basis: record })),
    '<footer><h2>Record</h2>',
    imprintHtml(sealed, FOOT),
    '<p id="check" role="status">The SHA-256 is that of the embedded record, as canonical JSON (RFC 8785). Whether the text above is what the record says was not checked.</p>',
    '<p>This check is part of the page: who changes the page can change the check. Compare the SHA-256 with the publisher\u2019s own list as well; <code>npm run --silent verify -- FILE</code> of the program holds the whole page against its record, drawings and evidence included.</p>',
    strangerHtml(record),
    `<h3>Source files and their SHA-256</h3><dl class="imprint">${sources}</dl>`,
    `<p>${escapeMarkup(record.caution)}</p></footer>`,
    `<script type="application/octet-stream" id="record">${base64OfText(sealed.json)}</script>`,
    `<script>${PAGE_CHECK}</script>\n<script>${FIGURE_ZOOM}</script></main></body></html>`,
    '',
  ].join('\n');
}
