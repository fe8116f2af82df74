/** How the flight went in sentences: without contact, broken off, how long, which steps were left out. */
import { type Figure, halfWidth95 } from '../../core/figure';
import { leadsAway } from '../../core/phases/match-steps';
import {
  breakOffs,
  cutStep,
  endedBrokenOff,
  unflownWhy,
} from '../../core/reconstruction/flight-course';
import { motionReachesContact } from '../../core/reconstruction/reaches-contact';
import type { Phase, Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { countWord } from '../../core/units/number-text';
import { figureView } from '../figure-view';
import { spokenDuration } from '../format-time';
import { pointsView } from '../points-view';
import { listParts, type Sentence } from '../sentence';
import { unplannedParts, unplannedRuns, whereTheTimeWent } from './time-spent-view';

/** Empty where the approach was broken off, which is the answer then. */
export function noContact(reconstruction: Reconstruction, sessionId: string): Sentence {
  const { phases, evaluated } = reconstruction;
  const last = phases.at(-1);
  if (last === undefined) {
    return evaluated === null
      ? ['No range was measured, so the approach could not be reconstructed.']
      : ['No contact was found, and without a plan no phase is told apart.'];
  }
  if (endedBrokenOff(reconstruction)) return [];
  if (pointsView(reconstruction) !== null)
    return ['Contact is not known: the motion is not of the ports, and no log names it.'];
  const away = 'The plan leads away from the port, so no contact was looked for: ';
  const beginning = leadsAway(reconstruction.plan) ? away : 'No contact was found: ';
  return [beginning, ...endOfData(last, sessionId)];
}

/** Each break-off: how near the vehicle came, and from where the approach was begun again. */
export function breakOffSentences(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  return breakOffs(reconstruction).flatMap(({ at, again }): Sentence[] => {
    const run = reconstruction.phases[at];
    const next = again === null ? undefined : reconstruction.phases[again];
    if (run === undefined) return [];
    const range = (figure: Figure, label: string) => figureView(figure, { sessionId, label });
    const more: Sentence =
      next === undefined
        ? []
        : [
            ', and begun again from ',
            range(next.rangeStartM, 'Range where the approach was begun again'),
            ' at ',
            figureView(next.startS, { sessionId, label: 'Begun again', form: 'time' }),
          ];
    return [
      [
        'The approach was broken off at ',
        figureView(run.startS, { sessionId, label: 'Broken off', form: 'time' }),
        ', ',
        range(run.rangeStartM, 'Range at the break-off'),
        ' from the port',
        ...more,
        ...(next === undefined && reconstruction.contact === null ? ['; no contact'] : []),
        '.',
      ],
    ];
  });
}

/** Where the motion breaks off. */
function endOfData(last: Phase, sessionId: string): Sentence {
  return [
    'the motion ends at ',
    figureView(last.endS, { sessionId, label: 'End of the last run', form: 'time' }),
    ', ',
    figureView(last.rangeEndM, { sessionId, label: 'Range at the end of the last run' }),
    ' from the port.',
  ];
}

export function timeSentences(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  const { phases, steps, plan } = reconstruction;
  const first = phases[0];
  const last = phases.at(-1);
  if (first === undefined || last === undefined) return [];
  const took = between(first.startS, last.endS, 'End of the last run less start of the first.');
  const length = figureView(took, { sessionId, label: 'Whole approach', form: 'spoken' });
  const unplanned = unplannedRuns(reconstruction);
  const cut = cutStep(reconstruction);
  if (plan === null || took.value === null) return [['The motion lasts ', length, '; no plan.']];
  const plannedS = steps.reduce((sum, step) => sum + step.plannedS, 0);
  if (!motionReachesContact(reconstruction)) {
    return [
      reconstruction.contact === null ? [] : ['Before contact ', ...endOfData(last, sessionId)],
      [
        'The data cover ',
        length,
        ` of the ${leadsAway(plan) ? 'departure' : 'approach'}; the plan gives its steps ${spokenDuration(plannedS)}`,
        ...(unplanned.length === 0
          ? []
          : ['. Not planned: ', ...unplannedParts(reconstruction, sessionId, 'told apart')]),
        '.',
      ],
    ];
  }
  if (cut !== null) {
    return [
      [`The data begin in ${nameFromId(steps[cut]?.id ?? '')}, `, length, ' before contact.'],
    ];
  }
  const overS = took.value - plannedS;
  const why = whereTheTimeWent(reconstruction, took, sessionId);
  const also = why.length === 0 ? [] : [': ', ...why];
  if (Math.abs(overS) < 1) {
    return [['The approach took ', length, ', within a second of the plan', ...also, '.']];
  }
  const over: Figure = {
    ...took,
    value: Math.abs(overS),
    method: `Whole approach (${spokenDuration(took.value, 1)}) against the ${countWord(steps.length)} planned lengths of the plan, added (${spokenDuration(plannedS)}).`,
  };
  const word = overS < 0 ? 'shorter' : 'longer';
  return [
    [
      'The approach took ',
      length,
      ', ',
      figureView(over, { sessionId, label: `${nameFromId(word)} than planned`, form: 'spoken' }),
      ` ${word} than planned`,
      ...also,
      '.',
    ],
  ];
}

/** Steps that were left out; where the data begin late or break off they may only not have been recorded. */
export function stepsNotFlown(reconstruction: Reconstruction): readonly Sentence[] {
  const words = [
    ['before the data', 'not flown in the data, which begin later'],
    ['not flown', 'not flown'],
    ['passed over', ''],
    ['broken off', 'not flown: the approach was broken off'],
    ['after the data', 'not seen in the data'],
  ] as const;
  return words.map(([why, what]) => {
    const names = reconstruction.steps.flatMap(({ id, pieces }, index): Sentence[] =>
      pieces === 0 && unflownWhy(reconstruction, index) === why ? [[nameFromId(id)]] : [],
    );
    if (names.length === 0) return [];
    const isOne = names.length === 1;
    if (why === 'passed over') {
      const own = isOne ? 'has no run of its own' : 'have no runs of their own';
      return [
        ...listParts(names),
        ` ${own}: the move before went on over ${isOne ? 'its' : 'their'} place.`,
      ];
    }
    return [...listParts(names), ` ${isOne ? 'was' : 'were'} ${what}.`];
  });
}

/** Length from one edge to another with both half-widths in quadrature. */
function between(start: Figure, end: Figure, method: string): Figure {
  const parts = [halfWidth95(start), halfWidth95(end)].filter((part) => part !== null);
  return {
    value: start.value === null || end.value === null ? null : end.value - start.value,
    unit: 's',
    uncertainty: parts.length === 0 ? null : { random: Math.hypot(...parts), systematic: null },
    method,
    evidence: { ...end.evidence, fromS: start.value, toS: end.value },
  };
}
