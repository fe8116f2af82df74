/** One finding with the figures captured with it. */
import { z } from 'zod';
import { actionWords } from '../../findings/finding';
import { sessionTimeText } from '../../time/session-time-text';
import { channelWords } from '../column-label';
import { numberRun, textRun } from '../resolve-context';
import { formForKey } from '../value-choices';
import { defineBlock } from './block';

function plain(text: string): string {
  return textRun(text).text;
}

/** One finding with its text, its stretch and the figures captured with it. */
export const findingCard = defineBlock(
  { findingId: z.string().min(1).max(80) },
  {
    name: 'findingCard',
    label: 'Finding',
    choices: ({ findings }) =>
      findings
        .filter((finding) => finding.state !== 'withdrawn')
        .map((finding) => ({
          label: `Finding ${finding.number}: ${finding.title}`,
          attributes: { findingId: finding.id },
        })),
    draft: (section, { findings }) =>
      section === 'findings'
        ? findings
            .filter((finding) => finding.state !== 'withdrawn')
            .map((finding) => ({ findingId: finding.id }))
        : [],
    resolve: ({ id, findingId }, context) => {
      const finding = context.material.findings.find((each) => each.id === findingId);
      if (finding === undefined) {
        return [{ kind: 'missing', id, message: 'Finding: it is no longer there.' }];
      }
      if (finding.state === 'withdrawn') {
        const message = `Finding ${finding.number}: it has been withdrawn.`;
        return [{ kind: 'missing', id, message }];
      }
      const { fromS, toS, channels } = finding.anchor;
      const stretch =
        fromS === toS
          ? sessionTimeText(fromS, 1)
          : `${sessionTimeText(fromS, 1)} to ${sessionTimeText(toS, 1)}`;
      return [
        {
          kind: 'finding',
          id,
          number: finding.number,
          title: plain(finding.title),
          about: finding.kind,
          severity: finding.severity,
          state: finding.state,
          fromS,
          toS,
          stretch,
          channels: channels.map((name) => plain(channelWords(name))),
          seen: plain(finding.seen),
          change: plain(
            [finding.change, actionWords(finding)].filter((part) => part !== '').join('\n\n'),
          ),
          author: plain(finding.author),
          numbers: finding.figures.map(({ key, label, figure }) => ({
            label: plain(label),
            run: numberRun(context, figure, { key, form: formForKey(key) }),
          })),
        },
      ];
    },
  },
);
