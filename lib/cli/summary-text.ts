/** A reconstruction in a few lines for a terminal. */
import { figureText } from '@/lib/core/debrief/figure-text';
import type { Figure } from '@/lib/core/figure';
import { axisWords } from '@/lib/core/reconstruction/axis-words';
import type { Phase, Reconstruction, RuleResult } from '@/lib/core/reconstruction/reconstruction';
import { minutesText, sessionTimeText } from '@/lib/core/time/session-time-text';

function numberOf(figure: Figure): number {
  return figure.value ?? Number.NaN;
}

/** Pads every column to its widest cell; the last column stays as it is. */
function alignColumns(rows: readonly (readonly string[])[]): string[] {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, index) => {
      widths[index] = Math.max(widths[index] ?? 0, cell.length);
    });
  }
  return rows.map((row) =>
    `  ${row.map((cell, index) => (index === row.length - 1 ? cell : cell.padEnd(widths[index] ?? 0))).join('  ')}`.trimEnd(),
  );
}

function phaseRow(phase: Phase): string[] {
  return [
    `${sessionTimeText(numberOf(phase.startS), 1)} to ${sessionTimeText(numberOf(phase.endS), 1)}`,
    phase.motion,
    phase.step ?? 'no step',
    minutesText(numberOf(phase.durationS)),
    `${figureText(phase.rangeStartM, { uncertainty: 'without', digits: 1 })} to ${figureText(phase.rangeEndM, { uncertainty: 'without', digits: 1 })}`,
  ];
}

function ruleRow(rule: RuleResult): string[] {
  const margin =
    rule.margin === null
      ? ''
      : `margin ${figureText(rule.margin, { form: 'signed', unit: rule.unit })}`;
  return [rule.id, rule.verdict, margin !== '' ? margin : (rule.reason ?? '')];
}

function contactLine(reconstruction: Reconstruction): string {
  const { contact } = reconstruction;
  if (contact === null) return 'no contact';
  const parts = [
    `contact at ${sessionTimeText(numberOf(contact.timeS), 1)} (${contact.basis})`,
    ...Object.entries(contact.conditions).map(
      ([name, figure]) => `${name.replaceAll('_', ' ')} ${figureText(figure)}`,
    ),
  ];
  return parts.join(', ');
}

/** The final step against simulator runs: axes that are not usual, or that none is. */
function comparisonLines({ comparison }: Reconstruction): readonly string[] {
  if (comparison === null || comparison.runs === 0) return [];
  const { runs, step, axes, completed } = comparison;
  const start = `${step} against ${runs} ${runs === 1 ? 'run' : 'runs'}`;
  if (!completed) return [`${start}: not completed, so nothing is said`];
  if (axes.every(({ verdict }) => verdict === 'not known'))
    return [`${start}: too few to say more`];
  const odd = axes.filter(({ verdict }) => verdict !== 'usual' && verdict !== 'not known');
  const rows = odd.map((axis) => [axis.label, `ratio ${figureText(axis.ratio)}`, axisWords(axis)]);
  return [odd.length === 0 ? `${start}: no axis is unusual` : start, ...alignColumns(rows)];
}

/** @returns lines without a line break at the end of any */
export function summaryLines(reconstruction: Reconstruction): string[] {
  const { session, phases, rules, exceedances, notes } = reconstruction;
  const why = notes.filter(({ code }) => ['no-motion', 'no-telemetry', 'no-plan'].includes(code));
  return [
    `${session.title}: ${session.kind}, ${minutesText(numberOf(session.durationS), 0)} from ${session.zeroUtc}`,
    phases.length === 0 ? 'no phases' : 'phases',
    ...(phases.length === 0 ? why.map(({ message }) => `  ${message}`) : []),
    ...alignColumns(phases.map(phaseRow)),
    rules.length === 0 ? 'no rules' : `rules (${exceedances.length} exceedances)`,
    ...alignColumns(rules.map(ruleRow)),
    contactLine(reconstruction),
    ...comparisonLines(reconstruction),
  ];
}
