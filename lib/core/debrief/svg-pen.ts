/** What pictures are drawn with: colours, elements, words. Every attribute is a presentation attribute. */
import { plainText } from './markup';
import type { PlotTone } from './plot';
import type { SvgNode } from './svg-node';

/** A custom property of the page, and its light value. */
export type Colour = readonly [name: string, light: string];

/** Turns a colour into paint, and names what a picture defines inside itself. */
export type Pen = Readonly<{ paint: (colour: Colour) => string; prefix: string }>;
type Attributes = Readonly<Record<string, string | number>>;

/** Colour of each tone. */
export const TONES: Readonly<Record<PlotTone, readonly [name: string, light: string]>> = {
  hold: ['--phase-hold', '#ebe5d3'],
  closing: ['--phase-closing', '#d6e6f2'],
  opening: ['--phase-opening', '#f4ddd0'],
  crossing: ['--phase-crossing', '#e8dcec'],
  beyond: ['--beyond', '#b34700'],
  gap: ['--ink-faint', '#666e76'],
  finding: ['--accent', '#00598c'],
  question: ['--accent', '#00598c'],
  event: ['--ink-soft', '#4d5761'],
  contact: ['--inside', '#00704f'],
};

/** Colours of text. */
export const INK = ['--ink', '#1b2530'] as const;
export const INK_SOFT = ['--ink-soft', '#4d5761'] as const;

/** Solid tones wash the background; the others are drawn thin so that the trace stays readable. */
export const WASH: Readonly<Partial<Record<PlotTone, number>>> = {
  beyond: 0.18,
  finding: 0.14,
  question: 0.14,
};

/** Width of a character at the pictures' size of type, near enough to make room by. */
export const CHARACTER_PX = 6.4;

/** A coordinate with at most two decimals. */
export function px(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

/** An element with its attributes as text. */
export function element(
  tag: string,
  attributes: Attributes,
  children: readonly SvgNode[] = [],
): SvgNode {
  const texts = Object.entries(attributes).map(
    ([name, value]) => [name, typeof value === 'number' ? px(value) : value] as const,
  );
  return { tag, attributes: Object.fromEntries(texts), children, text: '' };
}

type TextLook = Readonly<{
  colour: Colour;
  anchor?: 'start' | 'middle' | 'end';
  face?: 'mono';
}>;

/** A piece of text at a place, in the look of pictures. */
export function word(pen: Pen, text: string, x: number, y: number, look: TextLook): SvgNode {
  const anchor = look.anchor === undefined ? {} : { 'text-anchor': look.anchor };
  const face = look.face === undefined ? {} : { class: 'plot-number' };
  const attributes = { x, y, fill: pen.paint(look.colour), ...anchor, ...face };
  return { ...element('text', attributes), text: plainText(text) };
}
