/** What a first look says of the navigation, one line each. */
import { halfWidth95 } from '../../figure';
import type {
  NavigationReport,
  RangePair,
  SolutionStep,
} from '../../reconstruction/navigation-report';
import { sessionTimeText } from '../../time/session-time-text';
import { cutWords } from '../cut-words';
import { numberRun, type ResolveContext, textRun } from '../resolve-context';
import type { Run } from '../resolved';

function jumpRuns({ axes }: SolutionStep, context: ResolveContext): readonly Run[] {
  const jumps = axes.flatMap(({ axis, positionM }) => {
    const size = Math.abs(positionM?.value ?? 0);
    const stands = positionM !== null && size > (halfWidth95(positionM) ?? 0);
    return stands ? [{ axis, positionM, size }] : [];
  });
  const largest = jumps.sort((a, b) => b.size - a.size)[0];
  if (largest === undefined) return [textRun(', no jump that stands out of its uncertainty')];
  return [
    textRun(`, largest jump in ${largest.axis} `),
    numberRun(context, largest.positionM, { form: 'signed' }),
  ];
}

function stepLine(step: SolutionStep, context: ResolveContext): readonly Run[] {
  const { handOver } = step;
  const what =
    handOver === null
      ? 'Jump of the solution at '
      : `Hand-over ${handOver.from} to ${handOver.to} at `;
  return [
    textRun(what),
    numberRun(context, step.atS, { form: 'time', digits: 1, uncertainty: 'without' }),
    ...jumpRuns(step, context),
    textRun('.'),
  ];
}

function pairLine(pair: RangePair, context: ResolveContext): readonly Run[] {
  return [
    textRun(`${pair.second} less ${pair.first}: mean `),
    numberRun(context, pair.biasM, { form: 'signed' }),
    textRun(', scatter '),
    numberRun(context, pair.scatterM),
    textRun('.'),
  ];
}

/**
 * Hand-overs and jumps, a second range, samples not used.
 *
 * @param report null where no motion was estimated
 * @returns lines as runs; never empty
 */
export function navigationLines(
  report: NavigationReport | null,
  context: ResolveContext,
): readonly (readonly Run[])[] {
  if (report === null)
    return [[textRun('No motion was estimated, so there is nothing to say of it.')]];
  const { solution, steps, pairs, unused, turning } = report;
  return [
    [textRun(`The motion is estimated from ${solution.file}.`)],
    ...steps.map((step) => stepLine(step, context)),
    ...pairs.map((pair) => pairLine(pair, context)),
    ...turning.map(({ axis, isDeclared }) => [
      textRun(
        `Velocity ${axis} is in other axes than its position${isDeclared ? ', as declared' : ''}.`,
      ),
    ]),
    ...unused.map(({ what, channel, fromS, toS }) => [
      textRun(
        `Not used from ${sessionTimeText(fromS, 1)} to ${sessionTimeText(toS, 1)}: ${cutWords(`${what}${channel === null ? '' : ` in ${channel}`}`, 70)}.`,
      ),
    ]),
  ];
}
