/**
 * Figures of a published page that can be looked at closer: each is drawn again from the points of the
 * record, so nothing is lost by enlarging it. Runs in a browser, on the page that the program serves
 * and in the exported file alike; without it the figures stay as published, and so they do in print.
 */
import type { FigureBlock } from '../../core/debrief/resolved';
import type { SvgNode } from '../../core/debrief/svg-node';
import { drawPlot } from '../../core/debrief/svg-plot';
import { moved, plotsIn, WHOLE, type ZoomWindow, zoomed } from './zoom-window';

/** Gives the record's figures; asked for once, when somebody first looks closer. */
export type FiguresLoader = () => Promise<readonly FigureBlock[]>;

const SVG = 'http://www.w3.org/2000/svg';
const STEP = 1.6;
const SHARE = 0.2;

/** What the buttons and the keys do. Signs are drawn by the style sheet: the page's words stay as they are. */
const ACTS: Readonly<Record<string, (window: ZoomWindow) => ZoomWindow>> = {
  '+': (window) => zoomed(window, STEP, 0.5),
  '\u2212': (window) => zoomed(window, 1 / STEP, 0.5),
  '\u2190': (window) => moved(window, -SHARE),
  '\u2192': (window) => moved(window, SHARE),
  '\u21ba': () => WHOLE,
};
const BUTTONS: readonly (readonly [sign: string, label: string])[] = [
  ['+', 'Look closer'],
  ['\u2212', 'Look from further'],
  ['\u2190', 'Move left'],
  ['\u2192', 'Move right'],
  ['\u21ba', 'As published'],
];
const KEYS: Readonly<Record<string, string>> = {
  '+': '+',
  '=': '+',
  '-': '\u2212',
  ArrowLeft: '\u2190',
  ArrowRight: '\u2192',
  '0': '\u21ba',
  Escape: '\u21ba',
};

function elementOf(node: SvgNode): Element {
  const element = document.createElementNS(SVG, node.tag);
  for (const [name, value] of Object.entries(node.attributes)) element.setAttribute(name, value);
  if (node.text !== '') element.append(node.text);
  element.append(...node.children.map(elementOf));
  return element;
}

function redraw(svg: Element, figure: FigureBlock, window: ZoomWindow): void {
  const drawn = drawPlot(plotsIn(figure.plots, window), {
    idPrefix: figure.id,
    title: figure.caption,
    description: figure.alt,
  });
  for (const name of ['viewBox', 'height']) svg.setAttribute(name, drawn.attributes[name] ?? '');
  svg.replaceChildren(...drawn.children.map(elementOf));
}

/** Left and right end of the strips on the screen, px. */
function stripEnds(svg: Element): readonly [number, number] {
  const box = svg.querySelector('clipPath rect');
  const whole = svg.getBoundingClientRect();
  const widthPx = Number(svg.getAttribute('width')) || 1;
  const scale = whole.width / widthPx;
  const left = whole.left + Number(box?.getAttribute('x') ?? 0) * scale;
  return [left, left + Number(box?.getAttribute('width') ?? widthPx) * scale];
}

function makeZoomable(frame: Element, svg: Element, load: FiguresLoader): () => void {
  let window = WHOLE;
  let figure: FigureBlock | undefined;
  const show = async (next: ZoomWindow): Promise<void> => {
    window = next;
    figure ??= (await load()).find(({ id }) => id === frame.id);
    if (figure !== undefined) redraw(svg, figure, window);
    frame.classList.toggle('zoomed', window !== WHOLE && window.right - window.left < 1);
  };
  const act = (sign: string): void => void show((ACTS[sign] ?? (() => WHOLE))(window));
  const shareAt = (clientX: number): number => {
    const [left, right] = stripEnds(svg);
    return Math.min(1, Math.max(0, (clientX - left) / (right - left)));
  };
  svg.setAttribute('tabindex', '0');
  svg.addEventListener('keydown', (event) => {
    const { key, ctrlKey, metaKey, altKey } = event as KeyboardEvent;
    const sign = KEYS[key];
    if (sign === undefined || ctrlKey || metaKey || altKey) return;
    event.preventDefault();
    act(sign);
  });
  // The wheel scrolls the page, as anywhere, until the figure has the focus or Control is held.
  const wheel = (event: Event): void => {
    const { deltaY, clientX, ctrlKey } = event as WheelEvent;
    if (!ctrlKey && document.activeElement !== svg) return;
    event.preventDefault();
    void show(zoomed(window, deltaY < 0 ? 1.25 : 0.8, shareAt(clientX)));
  };
  svg.addEventListener('wheel', wheel, { passive: false });
  svg.addEventListener('pointerdown', (event) => {
    const { pointerId, clientX: startX } = event as PointerEvent;
    const from = window;
    const [left, right] = stripEnds(svg);
    const drag = (moving: Event): void => {
      if (from.right - from.left >= 1) return;
      void show(moved(from, (startX - (moving as PointerEvent).clientX) / (right - left)));
    };
    svg.setPointerCapture(pointerId);
    svg.addEventListener('pointermove', drag);
    const end = (): void => svg.removeEventListener('pointermove', drag);
    svg.addEventListener('pointerup', end, { once: true });
    svg.addEventListener('pointercancel', end, { once: true });
  });
  frame.prepend(buttons(act));
  return () => void (window === WHOLE ? undefined : show(WHOLE));
}

function buttons(act: (sign: string) => void): Element {
  const row = document.createElement('div');
  row.className = 'zoom';
  for (const [sign, label] of BUTTONS) {
    const button = document.createElement('button');
    button.type = 'button';
    button.dataset.sign = sign;
    button.title = label;
    button.setAttribute('aria-label', label);
    button.addEventListener('click', () => act(sign));
    row.append(button);
  }
  return row;
}

/** Makes every figure under an element one that can be looked at closer; each once. */
export function zoomFigures(root: ParentNode, load: FiguresLoader): void {
  let loading: Promise<readonly FigureBlock[]> | undefined;
  const once = () => {
    loading ??= load();
    return loading;
  };
  const resets: (() => void)[] = [];
  for (const frame of root.querySelectorAll('figure[id]')) {
    const svg = frame.querySelector(':scope > svg.plot');
    if (svg === null || frame.querySelector(':scope > .zoom') !== null) continue;
    resets.push(makeZoomable(frame, svg, once));
  }
  // Paper shows what was published.
  globalThis.addEventListener('beforeprint', () => {
    for (const reset of resets) reset();
  });
}

/** All figures of a record's blocks, those in lists and quotations too. */
export function figuresIn(part: unknown): readonly FigureBlock[] {
  if (Array.isArray(part)) return part.flatMap(figuresIn);
  if (typeof part !== 'object' || part === null) return [];
  if ('kind' in part && part.kind === 'figure') return [part as FigureBlock];
  return 'kind' in part && part.kind === 'table' ? [] : Object.values(part).flatMap(figuresIn);
}
