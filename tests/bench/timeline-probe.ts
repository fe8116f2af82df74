/** What a browser measures of the timeline: when strips stand, when they are refined, script, heap. */
import type { CDPSession, Page } from '@playwright/test';

/** Instants after the act, ms: the first picture of the new window, and the last strip refined. */
export type Redrawn = Readonly<{ drawnMs: number; refinedMs: number }>;

const WAIT_MS = 30_000;

/** ms from the start of the visit until every strip is drawn from the samples of its window. */
export async function firstStripsMs(page: Page, url: string, strips: number): Promise<number> {
  await page.addInitScript(
    ({ wanted }) => {
      const look = (): void => {
        const drawn = document.querySelectorAll('canvas[data-grain]').length;
        if (drawn < wanted) return;
        observer.disconnect();
        // The picture is on the screen with the frame after the one that drew it.
        requestAnimationFrame(() => {
          Reflect.set(window, 'stripsStoodMs', performance.now());
        });
      };
      const observer = new MutationObserver(look);
      observer.observe(document, {
        subtree: true,
        attributes: true,
        attributeFilter: ['data-grain'],
      });
    },
    { wanted: strips },
  );
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForFunction(() => Reflect.get(window, 'stripsStoodMs') !== undefined, null, {
    timeout: WAIT_MS,
  });
  return page.evaluate(() => Number(Reflect.get(window, 'stripsStoodMs')));
}

export type Wheel = Readonly<{
  /** Where on the plot, 0 to 1. */
  at: number;
  deltaX: number;
  deltaY: number;
  control: 'held' | 'free';
}>;

/** Turns the wheel over the strips and waits until all of them stand refined in the new window. */
export function turnWheel(page: Page, wheel: Wheel): Promise<Redrawn> {
  return page.evaluate(
    ({ at, deltaX, deltaY, control, waitMs }) =>
      new Promise<Readonly<{ drawnMs: number; refinedMs: number }>>((resolve, reject) => {
        const canvases = Array.from(
          document.querySelectorAll<HTMLCanvasElement>('canvas[data-window]'),
        );
        const before = canvases.map((canvas) => canvas.dataset.window);
        const box = canvases[0]?.getBoundingClientRect();
        if (box === undefined) return reject(new Error('no strip is drawn'));
        const startMs = performance.now();
        let drawnMs = Number.NaN;
        const look = (): void => {
          const moved = canvases.filter((canvas, index) => canvas.dataset.window !== before[index]);
          if (moved.length === canvases.length && Number.isNaN(drawnMs))
            drawnMs = performance.now() - startMs;
          const isFine = canvases.every((canvas) => canvas.dataset.grain === 'fine');
          if (moved.length < canvases.length || !isFine) return;
          observer.disconnect();
          clearTimeout(late);
          resolve({ drawnMs, refinedMs: performance.now() - startMs });
        };
        const late = setTimeout(() => {
          observer.disconnect();
          reject(new Error('the strips were not refined'));
        }, waitMs);
        const observer = new MutationObserver(look);
        for (const canvas of canvases)
          observer.observe(canvas, {
            attributes: true,
            attributeFilter: ['data-window', 'data-grain'],
          });
        canvases[0]?.dispatchEvent(
          new WheelEvent('wheel', {
            bubbles: true,
            cancelable: true,
            clientX: box.left + 56 + at * (box.width - 180),
            clientY: box.top + 20,
            deltaX,
            deltaY,
            ctrlKey: control === 'held',
          }),
        );
      }),
    { ...wheel, waitMs: WAIT_MS },
  );
}

async function scriptSeconds(cdp: CDPSession): Promise<number> {
  const { metrics } = await cdp.send('Performance.getMetrics');
  return metrics.find(({ name }) => name === 'ScriptDuration')?.value ?? Number.NaN;
}

/** Script time of each of some moves of the pointer over the strips, ms. */
export async function cursorMovesMs(page: Page, moves: number): Promise<readonly number[]> {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Performance.enable');
  const box = await page.locator('canvas[data-window]').first().boundingBox();
  if (box === null) throw new Error('no strip is drawn');
  const spent: number[] = [];
  let before = await scriptSeconds(cdp);
  for (let move = 0; move < moves; move += 1) {
    const share = ((move * 37) % 101) / 101;
    await page.mouse.move(box.x + 60 + share * (box.width - 190), box.y + 30);
    await page.waitForTimeout(25);
    const after = await scriptSeconds(cdp);
    spent.push((after - before) * 1000);
    before = after;
  }
  await cdp.detach();
  return spent;
}

type HeapSnapshot = Readonly<{
  snapshot: Readonly<{
    meta: Readonly<{
      node_fields: readonly string[];
      node_types: readonly (readonly string[] | string)[];
    }>;
  }>;
  nodes: readonly number[];
}>;

/** Bytes of everything in a snapshot that is not code: the engine goes on compiling what is used much. */
function bytesBesideCode({ snapshot, nodes }: HeapSnapshot): number {
  const { node_fields: fields, node_types: types } = snapshot.meta;
  const typeAt = fields.indexOf('type');
  const sizeAt = fields.indexOf('self_size');
  const code = types[typeAt]?.indexOf('code') ?? -1;
  if (typeAt < 0 || sizeAt < 0 || code < 0) throw new Error('the heap is written in another form');
  let bytes = 0;
  for (let at = 0; at < nodes.length; at += fields.length)
    if (nodes[at + typeAt] !== code) bytes += nodes[at + sizeAt] ?? 0;
  return bytes;
}

/** Bytes of data on the heap, compiled code left out, after what nobody holds was swept. */
export async function heapBytes(page: Page): Promise<number> {
  const cdp = await page.context().newCDPSession(page);
  const parts: string[] = [];
  cdp.on('HeapProfiler.addHeapSnapshotChunk', ({ chunk }) => parts.push(chunk));
  await cdp.send('HeapProfiler.collectGarbage');
  await cdp.send('HeapProfiler.takeHeapSnapshot', { reportProgress: false });
  await cdp.detach();
  return bytesBesideCode(JSON.parse(parts.join('')));
}
