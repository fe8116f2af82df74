/** Numbers of a published debrief that a newer reconstruction no longer gives. */
import type { Figure } from '../figure';
import { BY_HAND_MARK, type FigureForm, type FigureTextOptions, figureText } from './figure-text';
import type { NumberRun, ResolvedBlock, Run } from './resolved';

/** `sentence` is the line of the document that quotes it; `now` is null where it is no longer there. */
export type TouchedNumber = Readonly<{
  blockId: string;
  key: string;
  sentence: string;
  published: string;
  now: string | null;
}>;

type Line = Readonly<{ blockId: string; runs: readonly Run[] }>;

function linesOf(block: ResolvedBlock): readonly Line[] {
  switch (block.kind) {
    case 'heading':
    case 'paragraph':
      return [{ blockId: block.id, runs: block.runs }];
    case 'list':
      return block.items.flat().flatMap(linesOf);
    case 'quote':
      return block.blocks.flatMap(linesOf);
    case 'table':
      return block.rows.map((row) => ({
        blockId: block.id,
        runs: row.flatMap(({ runs }, index) =>
          index === 0 ? runs : [{ kind: 'break' as const }, ...runs],
        ),
      }));
    default:
      return [];
  }
}

/** The sentence of a line that holds one of its numbers. */
function sentenceAround(runs: readonly Run[], number: NumberRun): string {
  let text = '';
  let at = 0;
  for (const run of runs) {
    if (run === number) at = text.length;
    text += run.kind === 'break' ? ' \u00b7 ' : run.text;
  }
  const ends = [...text.matchAll(/[.!?](?=\s+[A-Z]|\s*$)/g)].map(({ index }) => index + 1);
  const from = ends.filter((end) => end <= at).at(-1) ?? 0;
  const to = ends.find((end) => end > at) ?? text.length;
  return text.slice(from, to).trim();
}

const FORMS: readonly (readonly [RegExp, FigureForm])[] = [
  [/^\d+:\d{2}:\d{2}/, 'time'],
  [/^[+\u2212]\d+:\d{2}/, 'signed-duration'],
  [/^\d+:\d{2}/, 'duration'],
  [/\d\smin\b/, 'spoken'],
  [/^[a-z]+$/, 'word'],
  [/^\+/, 'signed'],
];

/** How a published text was written, so that what it would be now is written alike. */
function writtenAs(marked: string): FigureTextOptions {
  const text = marked.replace(BY_HAND_MARK, '');
  const form = FORMS.find(([shape]) => shape.test(text))?.[1] ?? 'number';
  const unit = /\d\s([^\s\d\u00b1]+)$/.exec(text)?.[1] ?? null;
  if (text.includes('\u00b1')) return { form, unit, uncertainty: 'with' };
  // Without its uncertainty beside it a number was rounded for a sentence: to the same digits now.
  const digits = /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
  return { form, unit, uncertainty: 'without', digits: form === 'word' ? null : digits };
}

function hasMoved(run: NumberRun, figure: Figure | undefined): boolean {
  return figure === undefined || figure.value !== run.value || figure.unit !== run.unit;
}

/**
 * Finds what a debrief quotes and the figures no longer say.
 *
 * @param blocks the blocks of a published record
 * @param figures the newer figures by key
 * @param unknown beginnings of keys whose figures could not be computed now: nothing is said of those
 * @returns each number that differs, in the order of the document, with its sentence, what was
 *   published and what it would be now in the same unit
 */
export function touchedNumbers(
  blocks: readonly ResolvedBlock[],
  figures: ReadonlyMap<string, Figure>,
  unknown: readonly string[] = [],
): readonly TouchedNumber[] {
  return blocks.flatMap(linesOf).flatMap(({ blockId, runs }) =>
    runs.flatMap((run) => {
      if (run.kind !== 'number' || run.key === null) return [];
      const { key } = run;
      if (unknown.some((start) => key.startsWith(start))) return [];
      const figure = figures.get(key);
      if (!hasMoved(run, figure)) return [];
      return {
        blockId,
        key,
        sentence: sentenceAround(runs, run),
        published: run.text,
        now: figure === undefined ? null : figureText(figure, writtenAs(run.text)),
      };
    }),
  );
}
