/**
 * Round numbers that divide a stretch into about `count` parts: steps of 1, 2 or 5 times a power of ten.
 *
 * @returns ascending ticks inside `[from, to]`; empty where the stretch has no length
 */
export function niceTicks(from: number, to: number, count: number): readonly number[] {
  const span = to - from;
  if (!(span > 0)) return [];
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough) ?? power * 10;
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, index) => (first + index) * step + 0);
}
