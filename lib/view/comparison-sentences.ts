/** What is said of a comparison before its numbers: what stands out, what so many runs can carry, what was aligned. */
import { farAgain } from '../core/math/order-statistics';
import type { Comparison, ComparisonScore } from '../core/reconstruction/comparison';
import { FEWEST_RUNS } from '../core/reconstruction/comparison-scores';
import { runClaims } from '../core/reconstruction/run-claims';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { againstWords } from './against-words';
import { figureView } from './figure-view';
import { plural } from './format-number';
import { formatSessionTime } from './format-time';
import { listParts, type Sentence } from './sentence';

export function leadSentences(comparison: Comparison, sessionId: string): readonly Sentence[] {
  const { runs, step, scores } = comparison;
  const start: Sentence = [`${nameFromId(step)} is held against ${againstWords(comparison)}. `];
  if (runs === 0) return [['No run could be compared.']];
  const first = comparison.completed
    ? start
    : [...start, 'The flight did not complete it, so nothing is said to stand out. '];
  if (runs < FEWEST_RUNS) {
    return [
      [
        ...first,
        runs === 1
          ? `One says how far apart the two are, not whether that is unusual: at least ${FEWEST_RUNS} are asked before a number stands out.`
          : `So few say little: at least ${FEWEST_RUNS} are asked before a number stands out.`,
      ],
    ];
  }
  const out = scores.filter(({ standsOut }) => standsOut);
  const beyond = scores.filter(
    ({ standsOut, runsBelow, runsAbove }) => !standsOut && (runsBelow === 0 || runsAbove === 0),
  );
  return [
    out.length === 0
      ? [...first, 'No number of it stands out.']
      : [
          ...first,
          `Far beyond all of them: `,
          ...listParts(out.map((score) => namedScore(score, sessionId))),
          '.',
        ],
    ...(beyond.length === 0
      ? []
      : [
          [
            `Beyond all runs, but not far: ${beyond.map(({ label }) => lowered(label)).join('; ')}.`,
          ],
        ]),
    [
      `Far is at least ${formatNumber(100 * farAgain(runs), 0)} % as far again from the median as the farthest run. For one number named beforehand, chance alone lies beyond all ${runs} runs at most once in ${runs + 1} on one side; ${scores.length} numbers were looked at.`,
    ],
  ];
}

/** A score with its own number of runs, where some lack it. */
function namedScore(score: ComparisonScore, sessionId: string): Sentence {
  const { flight, simMedian, label, runs } = score;
  const view = (figure: ComparisonScore['flight'], what: string) =>
    figureView(figure, { sessionId, label: `${label}, ${what}` });
  return [
    `${lowered(label)} `,
    view(flight, 'flight'),
    ' against ',
    view(simMedian, 'median of the runs'),
    ` in the median of ${runs}`,
  ];
}

const lowered = (label: string): string => `${label.charAt(0).toLowerCase()}${label.slice(1)}`;

/** Claims that a number of runs can carry, as content, confidence and side. */
export function supportSentences({ runs }: Comparison): readonly string[] {
  if (runs === 0) return [];
  return runClaims(runs).map(({ clause, needed, isCarried }) => {
    const enough = isCarried
      ? `${runs} runs suffice (${needed})`
      : `${needed} runs are needed, there are ${runs}`;
    return `That ${clause}: ${enough}.`;
  });
}

/** What was aligned and what fell outside. */
export function reportLines({ report, runs }: Comparison): readonly string[] {
  const { places, whole, partly, none, fromS, toS, reason } = report;
  // An older reconstruction says none.
  if (typeof reason === 'string') return [`Nothing could be aligned: ${reason}.`];
  if (fromS === null || toS === null) return [];
  const there =
    runs === 1
      ? whole === 1
        ? 'the run is there at all of them.'
        : `the run is there at ${partly === 1 ? 'some' : 'none'} of them.`
      : `${whole} of ${runs} runs are there at all of them, ${partly} at some.`;
  const stretch = `of the flight from ${formatSessionTime(fromS)} to ${formatSessionTime(toS)}`;
  return [
    `${plural(places, 'place')} ${stretch}; ${there}`,
    ...(none.length === 0
      ? []
      : [
          `At none: ${none.slice(0, 20).join(', ')}${none.length > 20 ? ` and ${none.length - 20} more` : ''}.`,
        ]),
  ];
}
