/** Figures of the newest reconstruction by their keys, as a finding or a model change keeps them. */
import { keyWords } from '@/lib/core/debrief/key-words';
import type { CapturedFigure } from '@/lib/core/findings/finding';
import type { CompareQuestion } from '@/lib/core/reconstruction/aligned-comparison';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { loadAligned } from './load-aligned';
import { loadReconstruction } from './load-reconstruction';

/**
 * Keys that no figure has are left out.
 *
 * @param question how runs were compared on the page they are taken from; null for as they are kept
 */
export async function captureFigures(
  sessionId: string,
  keys: readonly string[],
  question: CompareQuestion | null,
): Promise<readonly CapturedFigure[]> {
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return [];
  const { comparison: kept } = reconstruction;
  const asked = question === null || kept === null ? null : await loadAligned(sessionId, question);
  const comparison = kept === null || asked === null ? kept : { ...kept, ...asked };
  const figures = listFigures({ ...reconstruction, comparison });
  return keys.flatMap((key) => {
    const figure = figures.get(key);
    return figure === undefined ? [] : [{ key, label: keyWords(key).slice(0, 200), figure }];
  });
}
