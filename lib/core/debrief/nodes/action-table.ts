/** What the findings ask to be changed, as a list to work through. */
import type { Finding } from '../../findings/finding';
import { plainText } from '../markup';
import { cell, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

/** Findings that stand and ask for a change, in their order. */
function asking(findings: readonly Finding[]): readonly Finding[] {
  return findings.filter(({ state, change }) => state !== 'withdrawn' && change.trim() !== '');
}

/** One row a finding that asks for a change, with who sees to it by when. */
export const actionTable = captionedTable({
  name: 'actionTable',
  label: 'Action list',
  caption: 'Changes that the findings ask for',
  section: null,
  count: (_, { findings }) => asking(findings).length,
  columns: [
    { label: 'Finding', align: 'end' },
    { label: 'Change', align: 'start' },
    { label: 'Owner', align: 'start' },
    { label: 'Due', align: 'start' },
    { label: 'Because of', align: 'start' },
    { label: 'Severity', align: 'start' },
    { label: 'State', align: 'start' },
  ],
  rows: ({ material }) =>
    asking(material.findings).map(({ number, change, owner, due, title, severity, state }) => [
      rowHeader(String(number)),
      cell(plainText(change).replace(/\s+/g, ' ').trim()),
      cell(owner === '' ? null : plainText(owner)),
      cell(due === '' ? null : due),
      cell(title),
      cell(severity),
      cell(state),
    ]),
});
