/** What the bands behind a picture's traces mean: a row of swatches, and letters for names without room. */
import { axisRatio, type Plot, type PlotBand, type PlotTone } from './plot';
import type { SvgNode } from './svg-node';
import { CHARACTER_PX, element, INK_SOFT, type Pen, TONES, WASH, word } from './svg-pen';

const TONE_WORDS: Readonly<Record<PlotTone, string>> = {
  hold: 'hold',
  closing: 'closing',
  opening: 'opening',
  crossing: 'crossing',
  beyond: 'beyond a limit',
  gap: 'no data',
  finding: 'finding',
  question: 'asked about',
  event: 'event',
  contact: 'contact',
};

/** The order in which swatches stand. */
const TONE_ORDER: readonly PlotTone[] = [
  'hold',
  'closing',
  'opening',
  'crossing',
  'beyond',
  'gap',
  'finding',
  'question',
];

const ROW_PX = 17;
const SWATCH_PX = 14;
const BETWEEN_PX = 16;

/** Letters by band, for the bands of a strip whose name is wider than they are. */
export type BandLetters = ReadonlyMap<PlotBand, string>;

/** Width of a band on the paper. */
function bandWidthPx(plot: Plot, band: PlotBand, widthPx: number): number {
  const [from, to] = [band.from, band.to].map((end) =>
    Math.min(1, Math.max(0, axisRatio(plot.x, end))),
  );
  return Math.abs((to ?? 0) - (from ?? 0)) * widthPx;
}

/**
 * Gives letters to named bands that have no room for their name.
 *
 * @param plot the strip that carries the names
 * @param widthPx its width on the paper
 */
export function bandLetters(plot: Plot | undefined, widthPx: number): BandLetters {
  const letters = new Map<PlotBand, string>();
  if (plot === undefined) return letters;
  for (const band of plot.bands) {
    const width = bandWidthPx(plot, band, widthPx);
    const isNarrow = width > 0 && band.label.length * CHARACTER_PX > width;
    if (band.along !== 'x' || band.label === '' || !isNarrow) continue;
    letters.set(band, letterOf(letters.size));
  }
  return letters;
}

/** a, b, ..., z, a1, b1, ... */
function letterOf(index: number): string {
  const turn = Math.floor(index / 26);
  return `${String.fromCharCode(97 + (index % 26))}${turn === 0 ? '' : turn}`;
}

type Entry = Readonly<{ tone: PlotTone | null; text: string }>;

function entriesOf(plots: readonly Plot[], letters: BandLetters): readonly Entry[] {
  const bands = plots.flatMap((plot) => plot.bands.filter(({ along }) => along === 'x'));
  const tones = TONE_ORDER.filter((tone) => bands.some((band) => band.tone === tone));
  return [
    ...tones.map((tone) => ({ tone, text: TONE_WORDS[tone] })),
    ...[...letters].map(([band, letter]) => ({ tone: null, text: `${letter} = ${band.label}` })),
  ];
}

type Placed = Entry & Readonly<{ x: number; row: number }>;

function placed(entries: readonly Entry[], widthPx: number): readonly Placed[] {
  let [x, row] = [0, 0];
  return entries.map((entry) => {
    const size = (entry.tone === null ? 0 : SWATCH_PX + 5) + entry.text.length * CHARACTER_PX;
    if (x > 0 && x + size > widthPx) [x, row] = [0, row + 1];
    const at = { ...entry, x, row };
    x += size + BETWEEN_PX;
    return at;
  });
}

/** What a legend takes below the picture, and its elements once its top is known. */
export type Legend = Readonly<{
  heightPx: number;
  draw: (pen: Pen, leftPx: number, topPx: number) => readonly SvgNode[];
}>;

/** The legend of some strips; of no height where nothing has to be told. */
export function legendOf(plots: readonly Plot[], letters: BandLetters, widthPx: number): Legend {
  const entries = placed(entriesOf(plots, letters), widthPx);
  const rows = entries.length === 0 ? 0 : (entries.at(-1)?.row ?? 0) + 1;
  return {
    heightPx: rows * ROW_PX,
    draw: (pen, leftPx, topPx) =>
      entries.flatMap(({ tone, text, x, row }) => {
        const [left, top] = [leftPx + x, topPx + row * ROW_PX];
        if (tone === null) return [word(pen, text, left, top + 10, { colour: INK_SOFT })];
        return [
          swatch(pen, tone, left, top),
          word(pen, text, left + SWATCH_PX + 5, top + 10, { colour: INK_SOFT }),
        ];
      }),
  };
}

function swatch(pen: Pen, tone: PlotTone, x: number, y: number): SvgNode {
  const box = { x, y, width: SWATCH_PX, height: 11, stroke: pen.paint(INK_SOFT) };
  const fill =
    tone === 'gap'
      ? { fill: `url(#${pen.prefix}-gap)` }
      : { fill: pen.paint(TONES[tone]), 'fill-opacity': String(WASH[tone] ?? 1) };
  return element('rect', { ...box, 'stroke-width': '0.6', ...fill });
}
