/** The answer of the navigation screen in sentences: what fed it, what jumped, what the other ranges say. */
import { type Figure, halfWidth95 } from '../../core/figure';
import { unfedFigure } from '../../core/reconstruction/feed-figures';
import type {
  NavigationReport,
  RangePair,
  SolutionStep,
} from '../../core/reconstruction/navigation-report';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { turningWords } from '../../core/reconstruction/turning-words';
import { formatNumber } from '../../core/units/number-text';
import { figureView } from '../figure-view';
import { plural } from '../format-number';
import { listParts, type Sentence, sentenceText } from '../sentence';

type Turning = NonNullable<NavigationReport['turning']>[number];

/** A jump counts as seen where it is larger than its own 95 % half-width. */
export function isSeen(figure: Figure): boolean {
  return Math.abs(figure.value ?? 0) > (halfWidth95(figure) ?? Infinity);
}

function fedSentence(
  report: NavigationReport,
  reconstruction: Reconstruction,
  sessionId: string,
): Sentence {
  const measured = report.feeds.filter(({ kind }) => kind === 'measured');
  const fed = [...new Set(measured.map(({ name }) => name))];
  const overs = report.steps.filter(({ handOver }) => handOver !== null).length;
  const unfed = unfedFigure(reconstruction);
  const fedWords =
    report.selector === null
      ? '; which sensor fed it is not recorded'
      : `${fed.length === 0 ? '' : `, fed by ${sentenceText(listParts(fed.map((name) => [name])))}`}${overs === 0 ? '' : `, with ${plural(overs, 'hand-over')}`}`;
  return [
    `The motion is estimated from ${report.solution.file}${fedWords}`,
    ...(unfed === null
      ? []
      : [
          '; for ',
          figureView(unfed, {
            sessionId,
            label: 'Not fed by an accepted measurement',
            form: 'spoken',
          }),
          ' it was not fed by an accepted measurement',
        ]),
    '.',
  ];
}

/** By the axis along which the jump is largest, of those along which it is seen. */
function jumpSentence({ axes, atS, handOver }: SolutionStep, sessionId: string): Sentence | null {
  const largest = axes
    .flatMap(({ axis, positionM }) =>
      positionM === null || !isSeen(positionM) ? [] : [{ axis, positionM }],
    )
    .sort((a, b) => Math.abs(b.positionM.value ?? 0) - Math.abs(a.positionM.value ?? 0))[0];
  if (largest === undefined) return null;
  return [
    'At ',
    figureView(atS, { sessionId, label: 'Time of the jump', form: 'time' }),
    `${handOver === null ? '' : `, at the hand-over to ${handOver.to},`} it jumped by `,
    figureView(largest.positionM, {
      sessionId,
      label: `Jump in position along ${largest.axis}`,
      form: 'signed',
    }),
    ` along ${largest.axis}.`,
  ];
}

function pairSentence({ second, biasM, scatterM }: RangePair, sessionId: string): Sentence {
  return [
    `${second} reads `,
    figureView(biasM, { sessionId, label: `${second}, bias`, form: 'signed' }),
    ' against it, and scatters about that by ',
    figureView(scatterM, { sessionId, label: `${second}, scatter` }),
    '.',
  ];
}

function turningSentence(turning: Turning, sessionId: string): Sentence {
  return [
    `Along ${turning.axis} the rate of the position and the velocity differ by `,
    figureView(turning.differenceMps, {
      sessionId,
      label: `Rate of the position less velocity along ${turning.axis}`,
      form: 'signed',
    }),
    ` at ${formatNumber(turning.distanceM, 0)} m, in proportion to the distance: ${turningWords(turning) ?? 'the axes of one turn against those of the other'}.`,
  ];
}

/** The rules that were judged while the solution settled; none where there are none. */
function settlingSentences({ rules }: Reconstruction, sessionId: string): readonly Sentence[] {
  const noted = rules.filter(({ explanation }) => explanation.includes('settling time')).length;
  if (noted === 0) return [];
  return [
    [
      `${plural(noted, 'rule')} ${noted === 1 ? 'is' : 'are'} judged while the solution was settling; `,
      { text: 'the rules say which', href: `/sessions/${encodeURIComponent(sessionId)}/rules` },
      '.',
    ],
  ];
}

/** The answer in sentences. */
export function navigationAnswer(
  report: NavigationReport,
  reconstruction: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  const none = 'No second range was recorded: a bias of the solution would not be seen.';
  return [
    fedSentence(report, reconstruction, sessionId),
    ...report.steps.flatMap((step) => {
      const sentence = jumpSentence(step, sessionId);
      return sentence === null ? [] : [sentence];
    }),
    ...report.pairs.map((pair) => pairSentence(pair, sessionId)),
    ...(report.turning ?? []).map((turning) => turningSentence(turning, sessionId)),
    ...(report.pairs.length === 0 ? [[none]] : []),
    ...settlingSentences(reconstruction, sessionId),
  ];
}
