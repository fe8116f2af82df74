/** Figures that a document states and a reconstruction does not list: counts, sums, stretches of faults. */
import type { Evidence, Figure } from '../figure';
import { halfWidth95 } from '../figure';
import type { Reconstruction, SequenceItem, Verdict } from '../reconstruction/reconstruction';
import { comparedFigures } from './compared-counts';

const VERDICT_KEYS: readonly (readonly [key: string, verdict: Verdict])[] = [
  ['met', 'met'],
  ['broken', 'broken'],
  ['undecided', 'undecided'],
  ['not_applicable', 'not applicable'],
  ['not_evaluated', 'not evaluated'],
];

function allSources(reconstruction: Reconstruction): Evidence {
  return {
    sources: reconstruction.sources.map(({ file, sha256 }) => ({ file, sha256 })),
    channels: [],
    fromS: reconstruction.evaluated?.fromS ?? null,
    toS: reconstruction.evaluated?.toS ?? null,
  };
}

function count(value: number, method: string, evidence: Evidence): Figure {
  return { value, unit: '1', uncertainty: null, method, evidence };
}

function countRules(reconstruction: Reconstruction): readonly [string, Figure][] {
  const evidence = allSources(reconstruction);
  const { rules } = reconstruction;
  const each = VERDICT_KEYS.map(([key, verdict]): [string, Figure] => [
    `counts.rules_${key}`,
    count(
      rules.filter((rule) => rule.verdict === verdict).length,
      `Number of rules with the verdict "${verdict}".`,
      evidence,
    ),
  ]);
  return [
    ['counts.rules', count(rules.length, 'Number of rules in the rule set.', evidence)],
    ...each,
  ];
}

/** Time spent beyond the limit of each rule; the half-widths add in quadrature. */
function beyondByRule(reconstruction: Reconstruction): readonly [string, Figure][] {
  return reconstruction.rules.flatMap((rule): [string, Figure][] => {
    const beyond = reconstruction.exceedances.filter((each) => each.rule === rule.id);
    const first = beyond[0];
    const lengths = beyond.map((each) => each.durationS.value);
    if (first === undefined || lengths.some((length) => length === null)) return [];
    const halves = beyond.map((each) => halfWidth95(each.durationS));
    const known = halves.filter((half) => half !== null);
    const evidence = {
      sources: first.durationS.evidence.sources,
      channels: first.durationS.evidence.channels,
      fromS: first.startS.value,
      toS: beyond.at(-1)?.endS.value ?? null,
    };
    const total: Figure = {
      value: lengths.reduce((sum: number, length) => sum + (length ?? 0), 0),
      unit: 's',
      uncertainty:
        known.length === halves.length ? { random: Math.hypot(...known), systematic: null } : null,
      method: 'Sum of the durations of the exceedances, their half-widths added in quadrature.',
      evidence,
    };
    const times = count(beyond.length, 'Number of exceedances of this rule.', evidence);
    return [
      [`rules[${rule.id}].exceedances`, times],
      [`rules[${rule.id}].beyond_s`, total],
    ];
  });
}

/** From where to where the first stretch lies in which a rule about events was broken. */
function brokenStretches({ rules, sources }: Reconstruction): readonly [string, Figure][] {
  return rules.flatMap(({ id, brokenOver = [], margin }): [string, Figure][] => {
    const first = brokenOver[0];
    if (first === undefined) return [];
    const logs = sources.filter(({ type }) => type === 'events');
    const { fromS, toS } = first;
    const figure = (value: number): Figure => ({
      value,
      unit: 's',
      uncertainty: null,
      method: 'From when it was due until it came, or from when it came until it was allowed.',
      evidence: {
        sources: margin?.evidence.sources ?? logs.map(({ file, sha256 }) => ({ file, sha256 })),
        channels: margin?.evidence.channels ?? [],
        fromS,
        toS,
      },
    });
    return [
      [`rules[${id}].broken.start_s`, figure(fromS)],
      [`rules[${id}].broken.end_s`, figure(toS)],
    ];
  });
}

/** The moment that decided a rule: of its smallest margin, or of the log entry. */
function ruleTimes({ rules, sources, events }: Reconstruction): readonly [string, Figure][] {
  return rules.flatMap(({ id, atS, margin }): [string, Figure][] => {
    if (atS === null) return [];
    const files = events.filter(({ timeS }) => timeS === atS).map(({ source }) => source);
    const logs = sources.filter(({ file }) => files.includes(file));
    const figure: Figure = {
      value: atS,
      unit: 's',
      uncertainty: null,
      method:
        margin === null
          ? 'Stamp of the log entry that decided the rule, put onto session time.'
          : 'Where the margin of the rule is smallest, or of the event that decided it.',
      evidence: {
        sources:
          margin === null
            ? logs.map(({ file, sha256 }) => ({ file, sha256 }))
            : margin.evidence.sources,
        channels: margin?.evidence.channels ?? [],
        fromS: atS,
        toS: atS,
      },
    };
    return [[`rules[${id}].time_s`, figure]];
  });
}

function faultStretches(reconstruction: Reconstruction): readonly [string, Figure][] {
  return reconstruction.dataQuality.flatMap((fault, index): [string, Figure][] => {
    const source = reconstruction.sources.find((each) => each.file === fault.source);
    const evidence: Evidence = {
      sources: source === undefined ? [] : [{ file: source.file, sha256: source.sha256 }],
      channels: fault.channel === null ? [] : [fault.channel],
      fromS: fault.startS,
      toS: fault.endS,
    };
    const at = (value: number, method: string): Figure => ({
      value,
      unit: 's',
      uncertainty: null,
      method,
      evidence,
    });
    return [
      [`data_quality[${index}].start_s`, at(fault.startS, 'Stamp of the row before the fault.')],
      [`data_quality[${index}].end_s`, at(fault.endS, 'Stamp of the row after the fault.')],
      [
        `data_quality[${index}].duration_s`,
        at(fault.endS - fault.startS, 'Difference of the two stamps.'),
      ],
    ];
  });
}

/** Time of each logged event after contact. */
function afterContact(reconstruction: Reconstruction): readonly [string, Figure][] {
  const contact = reconstruction.contact?.timeS;
  const contactS = contact?.value;
  if (contact === undefined || contactS === null || contactS === undefined) return [];
  return reconstruction.events.flatMap((entry, index): [string, Figure][] => {
    if (entry.event === null || entry.timeS < contactS - 1) return [];
    const source = reconstruction.sources.find((each) => each.file === entry.source);
    const file = source === undefined ? [] : [{ file: source.file, sha256: source.sha256 }];
    const figure: Figure = {
      value: entry.timeS - contactS,
      unit: 's',
      uncertainty: contact.uncertainty,
      method: `Stamp of the log entry on line ${entry.line}, put onto session time, less the time of contact; the uncertainty is that of contact.`,
      evidence: {
        sources: [...contact.evidence.sources, ...file],
        channels: contact.evidence.channels,
        fromS: contactS,
        toS: entry.timeS,
      },
    };
    return [[`events[${index}].after_contact_s`, figure]];
  });
}

/** The key of one thing of the sequence, as documents name its figures. */
export function sequenceKey(item: SequenceItem): string {
  return `sequence[${item.key}]`;
}

/** When each thing of the sequence was flown, was planned, and by how much they differ. */
function sequenceTimes({ sequence }: Reconstruction): readonly [string, Figure][] {
  return sequence.flatMap((item): [string, Figure][] => {
    const at = sequenceKey(item);
    const figures: readonly (readonly [string, Figure | null | undefined])[] = [
      ['flown_s', item.seen[0]?.timeS],
      ['planned_s', item.plannedS],
      ['difference_s', item.differenceS],
    ];
    return figures.flatMap(([name, figure]): [string, Figure][] =>
      figure == null ? [] : [[`${at}.${name}`, figure]],
    );
  });
}

/** From the start of the first step flown to contact, beside what the plan gives its steps. */
function wholeApproach(reconstruction: Reconstruction): readonly [string, Figure][] {
  const { steps, contact, plan } = reconstruction;
  const starts = steps.flatMap((step) => (step.startS === null ? [] : [step.startS]));
  const start = starts.find((figure) => figure.value !== null);
  const end = contact?.timeS;
  const entries: [string, Figure][] = [];
  if (plan !== null && plan.steps.length > 0) {
    const plannedS = plan.steps.reduce((sum, step) => sum + step.plannedS, 0);
    entries.push([
      'approach.planned_s',
      {
        value: plannedS,
        unit: 's',
        uncertainty: null,
        method: "Sum of the plan's times for its steps.",
        evidence: { sources: [], channels: [], fromS: null, toS: null },
      },
    ]);
  }
  if (start?.value == null || end?.value == null) return entries;
  const halves = [halfWidth95(start), halfWidth95(end)].filter((half) => half !== null);
  entries.push([
    'approach.flown_s',
    {
      value: end.value - start.value,
      unit: 's',
      uncertainty: halves.length === 2 ? { random: Math.hypot(...halves), systematic: null } : null,
      method: 'From the start of the first step flown to contact.',
      evidence: { ...end.evidence, fromS: start.value, toS: end.value },
    },
  ]);
  return entries;
}

/**
 * Figures for sentences, by key: `counts.rules_broken`, `rules[corridor].beyond_s`,
 * `data_quality[0].duration_s`, `approach.flown_s`, ...
 */
export function countedFigures(reconstruction: Reconstruction): ReadonlyMap<string, Figure> {
  const evidence = allSources(reconstruction);
  const { steps, sources, exceedances } = reconstruction;
  const completed = steps.filter((step) => step.completed).length;
  const flown = steps.filter((step) => step.pieces > 0).length;
  return new Map<string, Figure>([
    ['counts.sources', count(sources.length, 'Number of source files.', evidence)],
    ['counts.steps', count(steps.length, 'Number of steps in the plan.', evidence)],
    ['counts.steps_flown', count(flown, 'Number of steps with at least one piece.', evidence)],
    ['counts.steps_completed', count(completed, 'Number of steps completed.', evidence)],
    ['counts.exceedances', count(exceedances.length, 'Number of exceedances.', evidence)],
    ...countRules(reconstruction),
    ...beyondByRule(reconstruction),
    ...ruleTimes(reconstruction),
    ...brokenStretches(reconstruction),
    ...faultStretches(reconstruction),
    ...wholeApproach(reconstruction),
    ...afterContact(reconstruction),
    ...sequenceTimes(reconstruction),
    ...comparedFigures(reconstruction),
  ]);
}
