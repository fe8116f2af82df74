/** What was said and logged over a stretch, word for word. */
import { z } from 'zod';
import type { SessionEvent } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { sessionTimeText } from '../../time/session-time-text';
import type { DebriefMaterial } from '../debrief-material';
import { cell, rowHeader } from '../resolve-context';
import type { TableCell, TableColumn } from '../resolved';
import { type BlockChoice, defineBlock } from './block';
import { tableUnder } from './captioned-table';

/** Most entries of one table; a longer stretch says how many it leaves out. Our own choice. */
const MOST_ENTRIES = 200;
/** Offered before and after contact and around a stretch that was marked, s. Our own choice. */
const AROUND_CONTACT_S = 60;
const AROUND_STRETCH_S = 10;

const timeS = z.number().min(-1e9).max(1e9);

function within(material: DebriefMaterial, fromS: number, toS: number): readonly SessionEvent[] {
  return material.reconstruction.events.filter((each) => each.timeS >= fromS && each.timeS <= toS);
}

function row({ timeS: at, speaker, text, event, source }: SessionEvent): readonly TableCell[] {
  const words = [event === null ? null : nameFromId(event), text].filter((part) => part !== null);
  return [
    rowHeader(sessionTimeText(at, 1)),
    cell(speaker ?? '\u2013'),
    cell(words.join(': ')),
    cell(source),
  ];
}

type Stretch = Readonly<{ label: string; fromS: number; toS: number }>;

/** Contact, and the stretches of findings: what a debrief is most likely to quote. */
function stretches({ reconstruction, findings }: DebriefMaterial): readonly Stretch[] {
  const contactS = reconstruction.contact?.timeS.value ?? null;
  const contact =
    contactS === null
      ? []
      : [
          {
            label: 'What was said and logged around contact',
            fromS: contactS - AROUND_CONTACT_S,
            toS: contactS + AROUND_CONTACT_S,
          },
        ];
  const found = findings
    .filter(({ state }) => state !== 'withdrawn')
    .map(({ number, title, anchor }) => ({
      label: `What was said and logged: finding ${number}, ${title}`.slice(0, 300),
      fromS: anchor.fromS - AROUND_STRETCH_S,
      toS: anchor.toS + AROUND_STRETCH_S,
    }));
  return [...contact, ...found];
}

const COLUMNS: readonly TableColumn[] = [
  { label: 'Time', align: 'end' },
  { label: 'Who', align: 'start' },
  { label: 'Words', align: 'start' },
  { label: 'Log', align: 'start' },
];

/** An excerpt of all logs over a stretch of the session. */
export const logExcerpt = defineBlock(
  { fromS: timeS, toS: timeS, caption: z.string().max(300) },
  {
    name: 'logExcerpt',
    label: 'Log excerpt',
    choices: (material) =>
      stretches(material).flatMap(({ label, fromS, toS }): readonly BlockChoice[] =>
        within(material, fromS, toS).length === 0
          ? []
          : [{ label, attributes: { fromS, toS, caption: label } }],
      ),
    resolve: ({ id, fromS, toS, caption }, { material }) => {
      if (!(fromS < toS)) {
        return [
          { kind: 'missing', id, message: 'Log excerpt: its stretch ends before it starts.' },
        ];
      }
      const entries = within(material, fromS, toS);
      const left = entries.length - MOST_ENTRIES;
      const stretch = `From ${sessionTimeText(fromS, 1)} to ${sessionTimeText(toS, 1)}, session time.`;
      return [
        tableUnder(
          { id, caption },
          COLUMNS,
          entries.slice(0, MOST_ENTRIES).map(row),
          left > 0 ? `${stretch} ${left} later entries are left out.` : stretch,
        ),
      ];
    },
  },
);
