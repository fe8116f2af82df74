/** A picture of the approach over the distance from the port: from the side, from above, or its closing rate. */
import { z } from 'zod';
import { formatNumber } from '../../units/number-text';
import {
  APPROACH_PARTS,
  APPROACH_PICTURES,
  type ApproachPicture,
  approachColumns,
  approachPlot,
  hasApproachPicture,
} from '../approach-plots';
import type { DebriefMaterial } from '../debrief-material';
import { enterFigureEvidence } from '../figure-evidence';
import { plainText } from '../markup';
import type { Plot } from '../plot';
import { type BlockAttributes, defineBlock } from './block';

const CAPTIONS: Readonly<Record<ApproachPicture, string>> = {
  side: 'The approach from the side',
  above: 'The approach from above',
  rate: 'Closing rate over range, with plan and limits',
};

function attributesOf(picture: ApproachPicture): BlockAttributes {
  return { picture, caption: CAPTIONS[picture], alt: '' };
}

function endText(value: number): string {
  return formatNumber(Number(value.toPrecision(3)), 3).replace(/\.?0+$/, '');
}

/** What the picture shows, for those who do not see it. */
function shownWords(plot: Plot): string {
  const [flown, ...held] = plot.series;
  const known = (flown?.y ?? []).filter((value) => value !== null);
  const low = known.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = known.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const far = (flown?.x ?? []).reduce((most, value) => Math.max(most, value), 0);
  const beside =
    held.length === 0 ? '' : ` Beside it: ${held.map(({ label }) => label).join(', ')}.`;
  const holds = plot.bands.map(({ label }) => label);
  const bands = holds.length === 0 ? '' : ` Planned holds: ${holds.join(', ')}.`;
  return `${plot.y.label} from ${endText(low)} to ${endText(high)} ${plot.y.unit}, from ${endText(far)} m to the port at the right.${beside}${bands}`;
}

/** What is drawn beside what was flown, and from where. */
function besideWords({ series, bands, points }: Plot): readonly string[] {
  const held = series.length > 1 ? ['Lines beside it are of the plan and the rules.'] : [];
  const holds = bands.length > 0 ? ['Bands are holds of the plan.'] : [];
  const marked = points.map(({ label }) => `Marked: ${label}.`);
  return [...held, ...holds, ...marked];
}

const available = ({ derived }: DebriefMaterial): readonly ApproachPicture[] =>
  APPROACH_PICTURES.filter((picture) => hasApproachPicture(derived, picture));

/** One picture of the approach; its points are those of the derived columns. */
export const approachFigure = defineBlock(
  {
    picture: z.enum(APPROACH_PICTURES),
    caption: z.string().max(300),
    /** What the picture shows, in words; written from the points where it is left empty. */
    alt: z.string().max(2000),
  },
  {
    name: 'approachFigure',
    label: 'Approach figure',
    channels: ({ picture }) => approachColumns(picture),
    choices: (material) =>
      available(material).map((picture) => ({
        label: CAPTIONS[picture],
        attributes: attributesOf(picture),
      })),
    draft: (section, material) =>
      section === 'flown'
        ? available(material)
            .filter((picture) => picture !== 'above')
            .map(attributesOf)
        : [],
    resolve: ({ id, picture, caption, alt }, context) => {
      const { reconstruction, derived } = context.material;
      const plot = hasApproachPicture(derived, picture)
        ? approachPlot(reconstruction, derived, { id: `${id}-0`, picture })
        : null;
      if (plot === null) {
        const message = `Approach figure: no ${picture === 'rate' ? 'range and closing rate' : 'position across the docking axis'} in this session.`;
        return [{ kind: 'missing', id, message }];
      }
      const words = alt.trim() === '' ? shownWords(plot) : alt.normalize('NFC');
      const shown = plainText(caption.normalize('NFC'));
      const { tS } = derived;
      const evidence = enterFigureEvidence(context, {
        ...{ columns: approachColumns(picture), parts: APPROACH_PARTS },
        ...{ fromS: tS[0] ?? 0, toS: tS[tS.length - 1] ?? 0, beside: besideWords(plot) },
      });
      const drawn = { alt: plainText(words), plots: [plot], evidence };
      return [{ kind: 'figure', id, number: 0, caption: shown, ...drawn }];
    },
  },
);
