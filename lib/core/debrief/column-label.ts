import { nameFromId } from '../session/name-from-id';

/** What people call a derived column, from its name: the sample store keeps names and units only. */
const WORDS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    range: 'Range',
    closing_rate: 'Closing rate',
    axial_distance: 'Axial distance',
    axial_closing_rate: 'Axial closing rate',
    lateral_offset: 'Lateral offset',
    offset_y: 'Offset along y',
    offset_z: 'Offset along z',
    planned_closing_rate: 'Planned closing rate',
  }),
);

/** The words for a derived column, `null` for any other name. */
export function derivedColumnWords(name: string): string | null {
  return WORDS.get(name) ?? null;
}

/** `Closing rate` for closing_rate, `Limit: Corridor` for limit.corridor, else the name in words. */
export function columnLabel(name: string): string {
  if (name.startsWith('limit.')) return `Limit: ${nameFromId(name.slice('limit.'.length))}`;
  const words = derivedColumnWords(name) ?? name.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
