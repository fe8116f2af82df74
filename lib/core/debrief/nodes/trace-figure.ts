/** A figure of traces over a stretch of the session. */

import { z } from 'zod';
import { limitsOfRule } from '../../session/limit-columns';
import { nameFromId } from '../../session/name-from-id';
import { sessionTimeText } from '../../time/session-time-text';
import { formatNumber } from '../../units/number-text';
import type { DebriefMaterial } from '../debrief-material';
import { enterFigureEvidence } from '../figure-evidence';
import { figureText } from '../figure-text';
import { plainText } from '../markup';
import type { Plot } from '../plot';
import { TRACE_PARTS, tracePlots, usualChannels } from '../trace-plots';
import { type BlockAttributes, defineBlock } from './block';

/** Characters of a caption. */
const LONGEST_CAPTION = 300;

/** What is marked behind the traces. */
const BANDS = 'Behind them: runs of motion, gaps and stretches beyond a limit as they were found.';

const timeS = z.number().min(-1e9).max(1e9);

/** First and last row of the derived columns, s; null where there are none. */
function wholeStretch(material: DebriefMaterial): Readonly<{ fromS: number; toS: number }> | null {
  const { tS } = material.derived;
  const fromS = tS[0];
  const toS = tS[tS.length - 1];
  return fromS === undefined || toS === undefined || !(toS > fromS) ? null : { fromS, toS };
}

/** What the picture shows, for those who do not see it: each trace with its lowest and highest value. */
function describeTraces(plots: readonly Plot[], fromS: number, toS: number): string {
  const traces = plots.flatMap((plot) =>
    plot.series.map((series) => {
      const values = series.y.filter((value) => value !== null);
      const unit = plot.y.unit === '' ? '' : ` ${plot.y.unit}`;
      if (values.length === 0) return `${series.label} without values`;
      const range = values.reduce(
        ([low, high], value) => [Math.min(low, value), Math.max(high, value)] as const,
        [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const,
      );
      const [low, high] = range.map((value) => formatNumber(Number(value.toPrecision(3)), 3));
      return `${series.label} from ${trimZeros(low)} to ${trimZeros(high)}${unit}`;
    }),
  );
  return `Traces from ${sessionTimeText(fromS)} to ${sessionTimeText(toS)}: ${traces.join('; ')}.`;
}

function trimZeros(text: string | undefined): string {
  return (text ?? '').replace(/\.?0+$/, '');
}

/** Stretch around an exceedance: as much again on both sides, at least 30 s. */
function around(fromS: number, toS: number, whole: Readonly<{ fromS: number; toS: number }>) {
  const sideS = Math.max(30, toS - fromS);
  return { fromS: Math.max(whole.fromS, fromS - sideS), toS: Math.min(whole.toS, toS + sideS) };
}

function overview(material: DebriefMaterial): BlockAttributes | null {
  const whole = wholeStretch(material);
  const { channels, limits } = usualChannels(material.reconstruction, material.derived);
  if (whole === null || channels.length === 0) return null;
  const caption = ['The approach over session time', ...(limits === null ? [] : [limits])].join(
    '; ',
  );
  return { channels, ...whole, caption, alt: '' };
}

function exceedanceFigures(material: DebriefMaterial): readonly BlockAttributes[] {
  const whole = wholeStretch(material);
  if (whole === null) return [];
  return material.reconstruction.exceedances.flatMap((exceedance): BlockAttributes[] => {
    const rule = material.reconstruction.ruleSet.find((each) => each.id === exceedance.rule);
    const [startS, endS] = [exceedance.startS.value, exceedance.endS.value];
    const limits = rule === undefined ? null : limitsOfRule(rule);
    if (rule === undefined || limits === null || startS === null || endS === null) return [];
    const names = [limits.quantity, ...limits.lines.map(({ column }) => column)];
    const channels = names.filter((name) =>
      material.derived.columns.some((column) => column.name === name),
    );
    if (channels.length === 0) return [];
    const at = figureText(exceedance.startS, { form: 'time', uncertainty: 'without' });
    const caption = `${nameFromId(rule.id)}: beyond the limit from ${at}`.slice(0, LONGEST_CAPTION);
    return [{ channels, ...around(startS, endS, whole), caption, alt: '' }];
  });
}

/** A plot of quantities over a stretch of the session, with their limits. */
export const traceFigure = defineBlock(
  {
    // A limit's channel is called after its rule, whose id may have 400 characters.
    channels: z.array(z.string().min(1).max(500)).min(1).max(12),
    fromS: timeS,
    toS: timeS,
    caption: z.string().max(LONGEST_CAPTION),
    /** What the picture shows, in words; written from the points where it is left empty. */
    alt: z.string().max(2000),
  },
  {
    name: 'traceFigure',
    label: 'Trace figure',
    channels: ({ channels }) => channels,
    choices: (material) => {
      const whole = overview(material);
      const each = whole === null ? [] : [{ label: 'Whole session', attributes: whole }];
      const beyond = exceedanceFigures(material).map((attributes) => ({
        label: String(attributes.caption),
        attributes,
      }));
      return [...each, ...beyond];
    },
    draft: (section, material) => {
      const whole = section === 'flown' ? overview(material) : null;
      return whole === null ? [] : [whole];
    },
    resolve: ({ id, channels, fromS, toS, caption, alt }, context) => {
      const { material } = context;
      if (!(fromS < toS)) {
        return [
          { kind: 'missing', id, message: 'Trace figure: its stretch ends before it starts.' },
        ];
      }
      const absent = channels.filter(
        (name) => !material.derived.columns.some((column) => column.name === name),
      );
      if (absent.length > 0) {
        const names = absent.map(plainText).join(', ');
        return [
          { kind: 'missing', id, message: `Trace figure: no column ${names} in this session.` },
        ];
      }
      const request = { idPrefix: id, channels, fromS, toS };
      const plots = tracePlots(material.reconstruction, material.derived, request);
      const words = alt.trim() === '' ? describeTraces(plots, fromS, toS) : alt.normalize('NFC');
      return [
        {
          kind: 'figure',
          id,
          number: 0,
          caption: plainText(caption.normalize('NFC')),
          alt: plainText(words),
          plots,
          evidence: enterFigureEvidence(context, {
            ...{ columns: channels, parts: TRACE_PARTS, fromS, toS },
            beside: plots.some(({ bands }) => bands.length > 0) ? [BANDS] : [],
          }),
        },
      ];
    },
  },
);
