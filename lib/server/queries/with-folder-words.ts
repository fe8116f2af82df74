/** Words that came with a folder, among those that were said here. */
import { wordsKey } from '@/lib/core/session/words-key';
import type { KeptWord } from '@/lib/view/clock/correction-list';
import type { CorrectionKind } from '../correction-kind';

type Said = Readonly<{ by: string | null; reason: string | null }>;

/**
 * The folder's words in their order, then those said here. A word of the folder that was undone has a
 * row by then, which takes its place; one that was said here as well stands with those.
 */
export function withFolderWords<Correction extends Said>(
  rows: readonly KeptWord<Correction>[],
  { kind, words }: Readonly<{ kind: CorrectionKind; words: readonly Correction[] }>,
): readonly KeptWord<Correction>[] {
  const keyed = rows.map((row) => ({ row, key: wordsKey(row.correction) }));
  const ofFolder = (row: KeptWord<Correction>): boolean => row.createdAtIso === null;
  const first = words.flatMap((correction, index): KeptWord<Correction>[] => {
    const key = wordsKey(correction);
    const same = keyed.filter((each) => each.key === key).map(({ row }) => row);
    const undone = same.find(ofFolder);
    if (undone !== undefined) return [undone];
    if (same.length > 0) return [];
    return [
      {
        id: `folder-${index}`,
        version: 0,
        correction,
        author: correction.by ?? '',
        createdAtIso: null,
        undone: null,
        unkept: { kind, words: key },
      },
    ];
  });
  const placed = new Set(first);
  return [...first, ...rows.filter((row) => !placed.has(row))];
}
