/** Axes and numbers that lie far out among the runs, in sentences, and what so many runs cannot carry. */
import type { AxisRatio, Comparison } from '../reconstruction/comparison';
import { runClaims } from '../reconstruction/run-claims';
import { countWord } from '../units/number-text';
import { type Phrase, roughNode, valueNode } from './build-document';
import { isBeyondAll } from './compared-counts';
import { listed, lowered, type Sentence } from './draft-sentences';

const AXIS_CLAUSES: readonly (readonly [AxisRatio['verdict'], string])[] = [
  ['loose', 'Loose beside the runs: '],
  ['tight', 'Tight beside the runs: '],
  ['beyond', 'Beyond all runs, but not far: '],
];

/** Axes that stand out, each with its ratio and the interval of it. */
export function axisSentences({ axes }: Comparison): readonly Sentence[] {
  const judged = axes.filter(({ verdict }) => verdict !== 'not known');
  const named = ({ axis, label }: AxisRatio): readonly Phrase[] => [
    `${lowered(label)}, whose deviation was `,
    valueNode(`comparison.axes[${axis}].ratio`),
    ' times that of the median run',
  ];
  const found = AXIS_CLAUSES.flatMap(([verdict, words]): Sentence[] => {
    const of = judged.filter((axis) => axis.verdict === verdict);
    return of.length === 0 ? [] : [[words, ...listed(of.map(named)), '.']];
  });
  const isNone = !judged.some(({ verdict }) => verdict === 'loose' || verdict === 'tight');
  const none: Sentence = judged.length > 0 && isNone ? ['No axis is loose or tight.'] : null;
  return [none, ...found];
}

/** Most numbers beyond all runs that a draft names; the table has them all. */
const MOST_NAMED = 6;

/** A number beside the median run, those that stand out first. */
function namedScore({ name, label, standsOut }: Comparison['scores'][number]): readonly Phrase[] {
  const at = `comparison.scores[${name}]`;
  return [
    `${lowered(label)}, `,
    valueNode(`${at}.flight`),
    ' against ',
    valueNode(`${at}.sim_median`),
    ` in the median run${standsOut ? ', far beyond them' : ''}`,
  ];
}

/** Which numbers lie beyond all runs, and how little that can mean. */
export function numberSentences({ scores, runs }: Comparison): readonly Sentence[] {
  if (scores.length === 0) return [];
  const all = scores.filter(isBeyondAll);
  const beyond = [
    ...all.filter(({ standsOut }) => standsOut),
    ...all.filter(({ standsOut }) => !standsOut),
  ];
  const looked: readonly Phrase[] = [
    valueNode('comparison.numbers', 'word'),
    scores.length === 1 ? ' number looked at' : ' numbers looked at',
  ];
  const more = beyond.length - MOST_NAMED;
  const named = beyond
    .slice(0, MOST_NAMED)
    .flatMap((score, index) => [index === 0 ? '' : '; ', ...namedScore(score)]);
  return [
    beyond.length === 0
      ? ['Of the ', ...looked, ', none lies beyond all runs.']
      : [
          'Of the ',
          ...looked,
          ', ',
          valueNode('comparison.numbers_beyond_all', 'word'),
          beyond.length === 1 ? ' lies beyond all runs: ' : ' lie beyond all runs: ',
          ...named,
          more > 0 ? `; and ${countWord(more)} more in the table.` : '.',
        ],
    [
      'Beyond all N runs means p at most 1/(N + 1) on one side, here ',
      roughNode('comparison.chance_beyond_all', 'number', 1 + Math.ceil(Math.log10(runs + 1))),
      ', for one number that was named beforehand.',
    ],
  ];
}

/** Claims that the number of runs cannot carry; none where it carries all. */
export function supportSentence({ runs }: Comparison): Sentence {
  const not = runClaims(runs).filter(({ isCarried }) => !isCarried);
  if (not.length === 0) return null;
  const clauses = not.map(({ clause, needed }) => [`that ${clause} (${needed} are needed)`]);
  return [
    'So many runs, ',
    valueNode('comparison.runs', 'word'),
    ', cannot carry the claim ',
    ...(not.length === 1
      ? listed(clauses)
      : clauses.flatMap((each, at) => [at === 0 ? '' : ', or ', ...each])),
    '.',
  ];
}
