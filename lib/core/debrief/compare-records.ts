/** What changed between two revisions of a debrief: by section, number by number and word by word. */
import { runsText } from './html/html-runs';
import { keyWords } from './key-words';
import type { DebriefRecord } from './record';
import type { NumberRun, ResolvedBlock } from './resolved';

export type RecordChange = Readonly<{
  kind: 'number' | 'words' | 'figure' | 'added' | 'removed';
  /** Which number, in words; what kind of block otherwise. */
  what: string;
  /** Empty where there was nothing. */
  before: string;
  after: string;
}>;

/** Changes under one heading of the first level. */
export type SectionChanges = Readonly<{
  title: string;
  standing: 'changed' | 'added' | 'removed';
  changes: readonly RecordChange[];
}>;

type Section = Readonly<{ title: string; blocks: readonly ResolvedBlock[] }>;

const BEFORE_ALL = 'Before the first heading';

function sectionsOf({ blocks }: DebriefRecord): readonly Section[] {
  const sections: { title: string; blocks: ResolvedBlock[] }[] = [];
  for (const block of blocks) {
    if (block.kind === 'heading' && block.level === 1) {
      sections.push({ title: runsText(block.runs), blocks: [] });
    } else {
      if (sections.length === 0) sections.push({ title: BEFORE_ALL, blocks: [] });
      sections.at(-1)?.blocks.push(block);
    }
  }
  return sections;
}

function isNumber(value: object): value is NumberRun {
  return 'kind' in value && value.kind === 'number' && 'evidence' in value;
}

/** Keys of a block that are no words: how it is set, where it is, and the points of its pictures. */
const NO_WORDS = new Set(['id', 'kind', 'marks', 'align', 'tone', 'plots', 'evidence', 'key']);

/** True for where a reference leads: its words say it. */
const isInside = (href: unknown): boolean => typeof href === 'string' && href.startsWith('#');

/** Every piece of text in order, with each number given to `numbers` and standing as its key. */
function wordsOf(value: unknown, numbers: NumberRun[]): readonly string[] {
  if (typeof value === 'string') return [value];
  if (Array.isArray(value)) return value.flatMap((each) => wordsOf(each, numbers));
  if (typeof value !== 'object' || value === null) return [];
  if (isNumber(value)) {
    numbers.push(value);
    return [value.key === null ? value.text : `{${keyWords(value.key)}}`];
  }
  return Object.entries(value).flatMap(([key, inside]) =>
    NO_WORDS.has(key) || (key === 'href' && isInside(inside)) ? [] : wordsOf(inside, numbers),
  );
}

type Read = Readonly<{ words: string; numbers: readonly NumberRun[]; pictures: string }>;

function read(block: ResolvedBlock): Read {
  const numbers: NumberRun[] = [];
  const words = wordsOf(block, numbers).join(' ').replace(/\s+/g, ' ').trim();
  return { words, numbers, pictures: block.kind === 'figure' ? JSON.stringify(block.plots) : '' };
}

const BLOCK_WORDS: Readonly<Record<ResolvedBlock['kind'], string>> = {
  heading: 'heading',
  paragraph: 'paragraph',
  list: 'list',
  quote: 'quotation',
  code: 'code',
  divider: 'line',
  table: 'table',
  figure: 'figure',
  finding: 'finding',
  missing: 'block',
};

/** Most characters of a quoted piece; our own choice. */
const LONGEST = 160;

function piece(text: string, from: number): string {
  const start = Math.max(0, from - 40);
  const cut = text.slice(start, start + LONGEST).trim();
  return `${start > 0 ? '\u2026' : ''}${cut}${start + LONGEST < text.length ? '\u2026' : ''}`;
}

/** Words as they are quoted: the place of a number says that there is one, unless that is all. */
function quoted(words: string, other: string): string {
  const plain = (text: string) => text.replace(/\{[^}]*\}/g, '[number]');
  return plain(words) === plain(other) ? words : plain(words);
}

function wordChange(what: string, old: string, now: string): RecordChange {
  const [before, after] = [quoted(old, now), quoted(now, old)];
  let same = 0;
  while (same < before.length && before[same] === after[same]) same += 1;
  return { kind: 'words', what, before: piece(before, same), after: piece(after, same) };
}

/** Numbers of one key are taken in their order; one that stands on one side only is a change of words. */
function numberChanges(
  before: readonly NumberRun[],
  after: readonly NumberRun[],
): readonly RecordChange[] {
  const earlier = new Map<string, NumberRun[]>();
  for (const run of before) {
    if (run.key !== null) earlier.set(run.key, [...(earlier.get(run.key) ?? []), run]);
  }
  return after.flatMap((run): readonly RecordChange[] => {
    const old = run.key === null ? undefined : earlier.get(run.key)?.shift();
    if (run.key === null || old === undefined || old.text === run.text) return [];
    return [{ kind: 'number', what: keyWords(run.key), before: old.text, after: run.text }];
  });
}

function blockChanges(before: ResolvedBlock, after: ResolvedBlock): readonly RecordChange[] {
  const what = BLOCK_WORDS[after.kind];
  const [old, now] = [read(before), read(after)];
  const drawn: RecordChange = { kind: 'figure', what, before: old.words, after: now.words };
  return [
    ...numberChanges(old.numbers, now.numbers),
    ...(old.words === now.words ? [] : [wordChange(what, old.words, now.words)]),
    ...(old.pictures === now.pictures
      ? []
      : [{ ...drawn, before: piece(old.words, 0), after: 'Drawn from other points.' }]),
  ];
}

function gone(block: ResolvedBlock, kind: 'added' | 'removed'): RecordChange {
  const words = piece(read(block).words, 0);
  const said = kind === 'added' ? { before: '', after: words } : { before: words, after: '' };
  return { kind, what: BLOCK_WORDS[block.kind], ...said };
}

function sectionChanges(before: Section, after: Section): readonly RecordChange[] {
  const earlier = new Map(before.blocks.map((block) => [block.id, block]));
  const later = new Set(after.blocks.map(({ id }) => id));
  return [
    ...before.blocks.filter(({ id }) => !later.has(id)).map((block) => gone(block, 'removed')),
    ...after.blocks.flatMap((block) => {
      const old = earlier.get(block.id);
      return old === undefined ? [gone(block, 'added')] : blockChanges(old, block);
    }),
  ];
}

/**
 * Compares two records. Blocks are the same where their ids are, sections where their headings are.
 *
 * @param before the earlier revision
 * @param after the later one
 * @returns sections with changes, in the order of the later one, those that are gone last; a block
 *   that moved to another section is gone from the one and new in the other
 */
export function compareRecords(
  before: DebriefRecord,
  after: DebriefRecord,
): readonly SectionChanges[] {
  const left = [...sectionsOf(before)];
  const found = sectionsOf(after).map((section): SectionChanges => {
    const at = left.findIndex(({ title }) => title === section.title);
    const [old] = at < 0 ? [] : left.splice(at, 1);
    return old === undefined
      ? {
          title: section.title,
          standing: 'added',
          changes: section.blocks.map((block) => gone(block, 'added')),
        }
      : { title: section.title, standing: 'changed', changes: sectionChanges(old, section) };
  });
  const removed = left.map(
    ({ title, blocks }): SectionChanges => ({
      title,
      standing: 'removed',
      changes: blocks.map((block) => gone(block, 'removed')),
    }),
  );
  const isSaid = ({ standing, changes }: SectionChanges) =>
    standing !== 'changed' || changes.length > 0;
  return [...found, ...removed].filter(isSaid);
}
