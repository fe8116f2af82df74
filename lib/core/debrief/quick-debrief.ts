/** The command line's debrief: one self-contained page straight from a reconstruction. */
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import { figureText } from './figure-text';
import { escapeMarkup } from './markup';
import { durationText, sessionTimeText } from './session-time-text';
import { svgPlot } from './svg-plot';
import { tracePlots, usualChannels } from './trace-plots';

function table(
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  const cells = (tag: string, texts: readonly string[]) =>
    texts.map((text) => `<${tag}>${escapeMarkup(text)}</${tag}>`).join('');
  const body = rows.map((row) => `<tr>${cells('td', row)}</tr>`).join('');
  return `<table><caption>${escapeMarkup(caption)}</caption><thead><tr>${cells('th', head)}</tr></thead><tbody>${body}</tbody></table>`;
}

function stepRows(reconstruction: Reconstruction): readonly (readonly string[])[] {
  return reconstruction.steps.map((step) => [
    step.id,
    step.startS?.value == null ? 'not flown' : sessionTimeText(step.startS.value, 1),
    step.durationS === null ? '' : figureText(step.durationS).full,
    durationText(step.plannedS, 0),
    step.durationDeviationS === null ? '' : figureText(step.durationDeviationS).full,
  ]);
}

function ruleRows(reconstruction: Reconstruction): readonly (readonly string[])[] {
  return reconstruction.rules.map((rule) => [
    rule.id,
    rule.verdict,
    rule.margin === null ? '' : figureText(rule.margin, { unit: rule.unit }).full,
    rule.explanation,
  ]);
}

/**
 * A page that stands alone: what was flown, which rules held, contact, what is not known.
 *
 * @param reconstruction a computed reconstruction
 * @param derived its columns, for the figure
 * @returns a whole HTML document that loads nothing
 */
export function renderQuickDebrief(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
): string {
  const { session } = reconstruction;
  const title = escapeMarkup(session.title);
  const fromS = derived.tS[0] ?? 0;
  const toS = derived.tS[derived.tS.length - 1] ?? 1;
  const plots = tracePlots(reconstruction, derived, {
    idPrefix: 'fig1',
    channels: usualChannels(reconstruction, derived),
    fromS,
    toS,
  });
  const figure =
    plots.length === 0
      ? ''
      : svgPlot(plots, {
          idPrefix: 'fig1',
          title: session.title,
          description: 'Traces over session time.',
        });
  const contact = reconstruction.contact;
  const contactRows =
    contact === null
      ? []
      : Object.entries(contact.conditions).map(([name, value]) => [
          name.replaceAll('_', ' '),
          figureText(value).full,
        ]);
  return [
    '<!doctype html><html lang="en"><head><meta charset="utf-8">',
    `<title>${title}</title></head><body><h1>${title}</h1>`,
    '<p>For review after the flight. Not for real-time decisions, and not in place of the operator\u2019s own rules, tools and authority.</p>',
    figure,
    table(
      'Steps, planned and flown',
      ['Step', 'Start', 'Duration', 'Planned', 'Deviation'],
      stepRows(reconstruction),
    ),
    table('Rules', ['Rule', 'Verdict', 'Margin', 'Why'], ruleRows(reconstruction)),
    contact === null
      ? '<p>No contact was found.</p>'
      : table(
          `Contact at ${sessionTimeText(contact.timeS.value ?? Number.NaN, 1)}`,
          ['Condition', 'Value'],
          contactRows,
        ),
    table(
      'Sources',
      ['File', 'Rows', 'SHA-256'],
      reconstruction.sources.map((source) => [source.file, String(source.rowsRead), source.sha256]),
    ),
    '</body></html>\n',
  ].join('\n');
}
