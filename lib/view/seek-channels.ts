/** Which channels can be searched for stretches. */
import { rateUnit, readerUnit } from '../core/units/reader-unit';
import type { Strip, StripCatalogue } from './timeline-strips';

/** A channel that can be searched, with the reader's unit of its value and of its rate of change. */
export type SeekChannel = Readonly<{
  key: string;
  label: string;
  units: Readonly<{ value: string; rate: string }>;
}>;

/** Every measured channel once, those that are put on first. */
export function seekChannels(
  catalogue: StripCatalogue,
  shown: readonly string[],
): readonly SeekChannel[] {
  const found = new Map<string, SeekChannel>();
  const isOn = (strip: Strip): boolean => shown.includes(strip.id);
  const inOrder = [
    ...catalogue.strips.filter(isOn),
    ...catalogue.strips.filter((each) => !isOn(each)),
  ];
  for (const strip of inOrder) {
    const measured = strip.series.filter((series) => series.role === 'measured');
    for (const series of measured) {
      const label = measured.length === 1 ? strip.label : `${strip.label}, ${series.label}`;
      const units = { value: strip.unit, rate: readerUnit(rateUnit(strip.siUnit)).unit };
      if (!found.has(series.key)) found.set(series.key, { key: series.key, label, units });
    }
  }
  return [...found.values()];
}
