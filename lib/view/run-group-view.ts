/** What is said about simulator runs, and what may be claimed with them. */
import type { Comparison, RunGroup } from '../core/reconstruction/comparison';
import { formatNumber } from '../core/units/number-text';
import { figureView } from './figure-view';
import { plural } from './format-number';
import { listParts, type Sentence } from './sentence';

export type RunGroupView = Readonly<{ key: string; what: string; about: string; claim: string }>;

function lowered(label: string): string {
  return `${label.charAt(0).toLowerCase()}${label.slice(1)}`;
}

function stepText({ stepS }: RunGroup): string {
  return `${Number(stepS.toPrecision(3))} s`;
}

function aboutText(group: RunGroup): string {
  if (group.isFlight === true) return `flown, a row each ${stepText(group)}`;
  const { version, initialState, massKg, navigationModel, configuration } = group;
  const said = (name: string, value: string | null): string => `${name} ${value ?? 'not stated'}`;
  return [
    said('simulator version', version),
    said('first state', initialState ?? (group.basis === 'reconstruction' ? 'flown' : null)),
    `inputs ${group.inputs === 'recorded' ? 'as recorded' : 'of its own'}`,
    said('mass', massKg === null ? null : `${formatNumber(massKg, 0)} kg`),
    said('navigation', navigationModel),
    said('configuration', configuration),
    `a row each ${stepText(group)}`,
  ].join('; ');
}

function claimText({ differs, unstated, isFlight }: RunGroup): string {
  if (isFlight === true)
    return 'Not like for like: another flight has inputs and a first state of its own. No difference is one of the simulator’s.';
  if (differs.length === 0 && unstated.length === 0) return 'Like is held against like.';
  const parts = [
    ...(differs.length === 0 ? [] : [`differs: ${differs.join('; ')}`]),
    ...(unstated.length === 0 ? [] : [`not stated on both sides: ${unstated.join(', ')}`]),
  ];
  return `Not like for like; ${parts.join('; ')}.`;
}

export function runGroupView(group: RunGroup): RunGroupView {
  const [first = ''] = group.names;
  const last = group.names.at(-1) ?? first;
  const names = first === last ? first : `${first} to ${last}`;
  return {
    key: `${group.basis}-${first}`,
    what: `${plural(group.names.length, group.isFlight === true ? 'other flight' : group.basis)}, ${names}`,
    about: aboutText(group),
    claim: claimText(group),
  };
}

const VERDICTS = {
  looser: 'the vehicle was looser than simulated',
  tighter: 'the vehicle was tighter than simulated',
  'as simulated': 'as simulated',
  'not claimed': 'no claim, for like is not held against like',
} as const;

/** One sentence over all axes; null without reconstructions. */
export function vehicleSentence(
  { vehicle, groups }: Pick<Comparison, 'vehicle' | 'groups'>,
  sessionId: string,
): Sentence | null {
  if (vehicle.length === 0) {
    return groups.some(({ basis, isFlight }) => basis === 'prediction' && isFlight !== true)
      ? [
          'These are predictions: a difference may lie in inputs, first state or vehicle. Only reconstructions, driven by the recorded inputs, can say that the vehicle itself was looser.',
        ]
      : null;
  }
  const parts = vehicle.map(
    ({ label, ratio, verdict }): Sentence => [
      `${lowered(label)} `,
      figureView(ratio, { sessionId, label: `${label}, flown over reconstructed` }),
      ` (${VERDICTS[verdict]})`,
    ],
  );
  return ['Deviation flown over reconstructed: ', ...listParts(parts), '.'];
}
