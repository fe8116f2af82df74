/** What to look at before a draft is published: faults that stop it, and things worth a second look. */
import type { DebriefMaterial } from './debrief-material';
import { blockId, type DocNode, nodeText } from './document';
import { draftDebrief } from './draft';
import type { BlockRegistry } from './nodes/block';
import { BLOCK_REFERENCE, referenceLabels } from './nodes/block-reference';
import { FIGURE_VALUE, isMissingValue } from './nodes/figure-value';
import { changedSincePlaced } from './placed';
import { openContext, resolveBlock, resolveDocument } from './resolve';
import { staleClaims } from './stale-claims';
import { checkTemplate } from './template/check-template';
import { proseOf, typedNumbers } from './typed-numbers';

/** `stops` = cannot be published so; `look` = a person decides. */
export type DocumentCheck = Readonly<{
  gravity: 'stops' | 'look';
  blockId: string;
  message: string;
}>;

function walk(node: DocNode, visit: (node: DocNode) => void): void {
  visit(node);
  for (const child of node.content ?? []) walk(child, visit);
}

function holdsLiveNode(node: DocNode, registry: BlockRegistry): boolean {
  let found = false;
  walk(node, (each) => {
    if (each.type === FIGURE_VALUE || registry.has(each.type)) found = true;
  });
  return found;
}

/** A heading with nothing before the next heading of its level or above. */
function emptySections(doc: DocNode, registry: BlockRegistry): readonly DocumentCheck[] {
  const blocks = doc.content ?? [];
  return blocks.flatMap((block, index): readonly DocumentCheck[] => {
    if (block.type !== 'heading') return [];
    const title = nodeText(block).trim();
    if (title === '' && !holdsLiveNode(block, registry)) {
      return [{ gravity: 'look', blockId: blockId(block), message: 'A heading without words.' }];
    }
    const next = blocks
      .slice(index + 1)
      .find(
        (each) =>
          each.type === 'heading' || nodeText(each).trim() !== '' || holdsLiveNode(each, registry),
      );
    const level = Number(block.attrs?.level ?? 1);
    const nextLevel = next?.type === 'heading' ? Number(next.attrs?.level ?? 1) : null;
    const filled = next !== undefined && (nextLevel === null || nextLevel > level);
    const message = `The section \u201c${title}\u201d is empty.`;
    return filled ? [] : [{ gravity: 'look', blockId: blockId(block), message }];
  });
}

function brokenBlocks(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly DocumentCheck[] {
  const context = openContext(material);
  return (doc.content ?? []).flatMap((block): readonly DocumentCheck[] => {
    const checks: DocumentCheck[] = [];
    const id = blockId(block);
    for (const resolved of resolveBlock(block, context, registry)) {
      if (resolved.kind === 'missing') {
        const message = `${resolved.message} Remove the block, or put another in its place.`;
        checks.push({ gravity: 'stops', blockId: id, message });
      }
      if (resolved.kind === 'figure' && resolved.caption.trim() === '') {
        checks.push({ gravity: 'look', blockId: id, message: 'A figure without a caption.' });
      }
      if (resolved.kind === 'finding' && resolved.state === 'draft') {
        const message = `Finding ${resolved.number} (\u201c${resolved.title}\u201d) is still in draft.`;
        checks.push({ gravity: 'look', blockId: id, message });
      }
    }
    walk(block, (node) => {
      if (node.type !== FIGURE_VALUE || !isMissingValue(node.attrs, context)) return;
      const key = String(node.attrs?.key ?? '');
      checks.push({
        gravity: 'stops',
        blockId: id,
        message: `A value has no figure behind it: ${key}. Take it out, or put another in its place.`,
      });
    });
    return checks;
  });
}

/** References to a block that was removed, or that has no number to be called by. */
function lostReferences(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly DocumentCheck[] {
  const asked = (doc.content ?? []).flatMap((block) => {
    const targets: string[] = [];
    walk(block, (node) => {
      if (node.type === BLOCK_REFERENCE) targets.push(String(node.attrs?.target ?? ''));
    });
    return targets.map((target) => ({ target, id: blockId(block) }));
  });
  if (asked.length === 0) return [];
  const labels = referenceLabels(resolveDocument(doc, material, registry).blocks);
  return asked
    .filter(({ target }) => !labels.has(target))
    .map(({ id }) => ({
      gravity: 'stops',
      blockId: id,
      message:
        'A reference leads to a section, figure or table that is no longer here: take it out, or choose another.',
    }));
}

function leftOutFindings(doc: DocNode, { findings }: DebriefMaterial): readonly DocumentCheck[] {
  const shown = new Set<unknown>();
  walk(doc, (node) => {
    if (node.type === 'findingCard') shown.add(node.attrs?.findingId);
  });
  return findings
    .filter((finding) => finding.state !== 'withdrawn' && !shown.has(finding.id))
    .map((finding) => ({
      gravity: 'look',
      blockId: '',
      message: `Finding ${finding.number} (\u201c${finding.title}\u201d) is not in the debrief.`,
    }));
}

/** Corrections that count and that the document does not list: its numbers rest on them. */
function leftOutCorrections(
  doc: DocNode,
  { reconstruction }: DebriefMaterial,
): readonly DocumentCheck[] {
  const results = reconstruction.phaseEdits?.results ?? [];
  const counting = results.filter(({ outcome }) => outcome.state === 'applied').length;
  let isListed = false;
  walk(doc, (node) => {
    if (node.type === 'correctionTable') isListed = true;
  });
  if (counting === 0 || isListed) return [];
  const what = counting === 1 ? 'A correction' : `${counting} corrections`;
  const message = `${what} of phases or contact by people ${counting === 1 ? 'counts' : 'count'} in these numbers, and the debrief does not list ${counting === 1 ? 'it' : 'them'}: insert the correction table.`;
  return [{ gravity: 'look', blockId: '', message }];
}

/** Most values that have moved which the list names one by one. */
const MOST_MOVED = 12;

/** Live blocks and values that show something else than when they were placed. */
function movedSincePlaced(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly DocumentCheck[] {
  const context = openContext(material);
  let section = '';
  const all = (doc.content ?? []).flatMap((block): readonly DocumentCheck[] => {
    if (block.type === 'heading') section = ` under \u201c${nodeText(block).trim()}\u201d`;
    return changedSincePlaced(block, context, registry).map(({ node, was, now }) => {
      const what =
        was === null
          ? `${registry.get(node.type)?.label ?? node.type}${section} shows something else than when it was placed.`
          : `A value${section} has changed since it was placed: it was ${was}, it is ${now}.`;
      return { gravity: 'look', blockId: blockId(block), message: what };
    });
  });
  // One value twice in a sentence is told once.
  const moved = [...new Map(all.map((each) => [`${each.blockId} ${each.message}`, each])).values()];
  const more = moved.length - MOST_MOVED;
  if (more <= 1) return moved;
  const message = `${more} more values and blocks have changed since they were placed; the editor marks each.`;
  return [...moved.slice(0, MOST_MOVED), { gravity: 'look', blockId: '', message }];
}

/** Most typed numbers that one line of the list names. */
const MOST_NAMED = 6;

/** Prose that the program writes for this session as it is now. */
function freshProse(material: DebriefMaterial, registry: BlockRegistry): readonly string[] {
  let count = 0;
  const nextId = () => {
    count += 1;
    return `fresh-${count}`;
  };
  return proseOf(draftDebrief(material, registry, nextId));
}

/** Numbers typed by hand, and drafted sentences that the session no longer bears out. */
function proseChecks(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly DocumentCheck[] {
  const fresh = freshProse(material, registry);
  const drafted = new Set(fresh);
  let section = '';
  return (doc.content ?? []).flatMap((block): readonly DocumentCheck[] => {
    if (block.type === 'heading') section = ` under \u201c${nodeText(block).trim()}\u201d`;
    const look = (message: string): DocumentCheck => ({
      gravity: 'look',
      blockId: blockId(block),
      message,
    });
    const stale = staleClaims(proseOf(block).join('\n'), fresh.join('\n'), material).map((claim) =>
      look(`This no longer holds${section}: \u201c${claim}\u201d`),
    );
    const typed = typedNumbers(block, drafted);
    if (typed.length === 0) return stale;
    const more = typed.length > MOST_NAMED ? ` and ${typed.length - MOST_NAMED} more` : '';
    const named = `${typed.slice(0, MOST_NAMED).join(', ')}${more}`;
    const what = typed.length === 1 ? 'A number' : 'Numbers';
    return [...stale, look(`${what} typed by hand${section}, no value behind: ${named}.`)];
  });
}

/**
 * The list that is shown before publishing.
 *
 * @returns in the order of the document; empty where nothing is to be said
 */
export function checkDocument(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): readonly DocumentCheck[] {
  return [
    ...brokenBlocks(doc, material, registry),
    ...lostReferences(doc, material, registry),
    ...checkTemplate(doc, material, registry),
    ...emptySections(doc, registry),
    ...movedSincePlaced(doc, material, registry),
    ...proseChecks(doc, material, registry),
    ...leftOutFindings(doc, material),
    ...leftOutCorrections(doc, material),
  ];
}
