/** What the timeline's route handlers read from an address, checked. */
import { MOST_KEYS } from '@/lib/view/charts/envelope-question';

export type StretchRequest = Readonly<{ fromS: number; toS: number; keys: readonly string[] }>;

/** Three hundred years: beyond it a window is a slip, and its pixels are no numbers any more. */
const FARTHEST_S = 1e10;

/** A window shorter than this has no length on a clock that is shifted by years. */
export const SHORTEST_S = 1e-5;

/** @returns the stretch and columns asked for; a sentence when they cannot be read */
export function readStretchRequest(query: URLSearchParams): StretchRequest | string {
  const fromS = numberOf(query.get('from'));
  const toS = numberOf(query.get('to'));
  if (fromS === null || toS === null) return 'from and to are needed, in session seconds.';
  if (Math.max(Math.abs(fromS), Math.abs(toS)) > FARTHEST_S) {
    return `from and to are session seconds between -${FARTHEST_S} and ${FARTHEST_S}.`;
  }
  if (toS < fromS) return `to (${toS} s) lies before from (${fromS} s).`;
  const keys = readKeys(query);
  return typeof keys === 'string' ? keys : { fromS, toS, keys };
}

/** @returns the columns asked for, each once; a sentence when they are too many */
export function readKeys(query: URLSearchParams): readonly string[] | string {
  const keys = [...new Set(query.getAll('c'))];
  return keys.length > MOST_KEYS ? `${keys.length} columns asked for; at most ${MOST_KEYS}.` : keys;
}

/** @returns session seconds; null for what is no instant of a session */
export function readInstant(text: string | null): number | null {
  const atS = numberOf(text);
  return atS === null || Math.abs(atS) > FARTHEST_S ? null : atS;
}

/** Columns of the screen, 16 to 4096. */
export function readPixels(query: URLSearchParams): number | null {
  const pixels = numberOf(query.get('pixels'));
  if (pixels === null || !Number.isInteger(pixels)) return null;
  return pixels >= 16 && pixels <= 4096 ? pixels : null;
}

export function refusal(status: 400 | 404, sentence: string): Response {
  return new Response(`${sentence}\n`, {
    status,
    headers: { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' },
  });
}

export function numberOf(text: string | null): number | null {
  if (text === null || text.trim() === '') return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}
