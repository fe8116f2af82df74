/** What the findings ask to be changed, as a list to work through. */
import type { Finding } from '../../findings/finding';
import { plainText } from '../markup';
import { cell, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

/** Findings that stand and ask for a change, in their order. */
function asking(findings: readonly Finding[]): readonly Finding[] {
  return findings.filter(({ state, change }) => state !== 'withdrawn' && change.trim() !== '');
}

/** One row a finding that asks for a change; who does it by when is for the team to write. */
export const actionTable = captionedTable({
  name: 'actionTable',
  label: 'Action list',
  caption: 'Changes that the findings ask for',
  section: null,
  count: (_, { findings }) => asking(findings).length,
  columns: [
    { label: 'Finding', align: 'end' },
    { label: 'Change', align: 'start' },
    { label: 'Because of', align: 'start' },
    { label: 'Severity', align: 'start' },
    { label: 'State', align: 'start' },
  ],
  rows: ({ material }) =>
    asking(material.findings).map(({ number, change, title, severity, state }) => [
      rowHeader(String(number)),
      cell(plainText(change).replace(/\s+/g, ' ').trim()),
      cell(title),
      cell(severity),
      cell(state),
    ]),
});
