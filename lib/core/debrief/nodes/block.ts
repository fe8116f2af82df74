/**
 * The seam for document blocks. One definition per block serves the editor (name, attributes, words
 * for its menu), the draft (where the block puts itself, if anywhere) and, by resolving to plain
 * blocks, every exporter. Definitions know no editor and no page.
 */
import { z } from 'zod';
import type { Reconstruction } from '../../reconstruction/reconstruction';
import type { DebriefMaterial } from '../debrief-material';
import { BLOCK_ID, LIVE_PLACED } from '../document';
import type { DraftSection } from '../draft-sections';
import type { PollPlace } from '../poll-place';
import type { ResolveContext } from '../resolve-context';
import type { ResolvedBlock } from '../resolved';

/** Attributes of a block, checked; JSON values only. */
export type BlockAttributes = Readonly<Record<string, unknown>>;

/** One offer of the editor's insert menu. */
export type BlockChoice = Readonly<{ label: string; attributes: BlockAttributes }>;

/** A block as a registry holds it. `name` is the node type in the editor's JSON, `label` for people. */
export type Block = Readonly<{
  name: string;
  label: string;
  attributeNames: readonly string[];
  /** Says what is wrong with attributes, as one sentence; null when nothing is. */
  fault: (attributes: unknown) => string | null;
  /** Says what is wrong with one attribute; null when nothing is. */
  attributeFault: (name: string, value: unknown) => string | null;
  /** What can be inserted for this session; an empty list hides the block from the menu. */
  choices: (material: DebriefMaterial) => readonly BlockChoice[];
  /** Derived columns that it draws: the samples that have to be read for it. */
  channels: (attributes: unknown) => readonly string[];
  /** True where some of its copies draw samples: what it can show is then not known without them. */
  drawsSamples: boolean;
  /** Instants at which what was known then has to be computed for it. */
  polls: (attributes: unknown, reconstruction: Reconstruction) => readonly PollPlace[];
  resolve: (attributes: unknown, context: ResolveContext) => readonly ResolvedBlock[];
  /** Attributes of each copy that a draft puts at the end of a section. */
  draft: (section: DraftSection, material: DebriefMaterial) => readonly BlockAttributes[];
}>;

const idSchema = z.string().regex(BLOCK_ID);

function firstIssue(name: string, error: z.ZodError): string {
  const issue = error.issues[0];
  const where = issue === undefined || issue.path.length === 0 ? '' : `.${issue.path.join('.')}`;
  return `${name}${where}: ${issue?.message ?? 'not valid'}`;
}

/**
 * Makes a block for a registry.
 *
 * @param shape zod shape of the attributes besides `id`; the type of the block follows from it
 * @param parts the rest; `channels`, `polls`, `choices` and `draft` are empty unless given
 */
export function defineBlock<S extends z.ZodRawShape>(
  shape: S,
  parts: Readonly<{
    name: string;
    label: string;
    resolve: (
      attributes: z.infer<z.ZodObject<S>> & Readonly<{ id: string }>,
      context: ResolveContext,
    ) => readonly ResolvedBlock[];
    channels?: (attributes: z.infer<z.ZodObject<S>>) => readonly string[];
    polls?: (
      attributes: z.infer<z.ZodObject<S>>,
      reconstruction: Reconstruction,
    ) => readonly PollPlace[];
    choices?: (material: DebriefMaterial) => readonly BlockChoice[];
    draft?: (section: DraftSection, material: DebriefMaterial) => readonly BlockAttributes[];
  }>,
): Block {
  const attributes = z.strictObject(shape);
  const own = (given: unknown): Readonly<{ id: unknown; rest: unknown }> => {
    if (typeof given !== 'object' || given === null) return { id: null, rest: given };
    const { id, [LIVE_PLACED]: _placed, ...rest } = { id: null, [LIVE_PLACED]: null, ...given };
    return { id, rest };
  };
  const fault = (given: unknown): string | null => {
    const { id, rest } = own(given);
    if (!idSchema.safeParse(id).success) return `${parts.name}.id: not a block id`;
    const parsed = attributes.safeParse(rest);
    return parsed.success ? null : firstIssue(parts.name, parsed.error);
  };
  return {
    name: parts.name,
    label: parts.label,
    attributeNames: Object.keys(shape),
    fault,
    attributeFault: (name, value) => {
      const schema = Object.entries(attributes.shape).find(([key]) => key === name)?.[1];
      if (schema === undefined) return null;
      const parsed = z.safeParse(schema, value);
      return parsed.success ? null : firstIssue(`${parts.name}.${name}`, parsed.error);
    },
    channels: (given) => {
      const parsed = attributes.safeParse(own(given).rest);
      return parsed.success ? (parts.channels?.(parsed.data) ?? []) : [];
    },
    drawsSamples: parts.channels !== undefined,
    polls: (given, reconstruction) => {
      const parsed = attributes.safeParse(own(given).rest);
      return parsed.success ? (parts.polls?.(parsed.data, reconstruction) ?? []) : [];
    },
    choices: parts.choices ?? (() => []),
    draft: parts.draft ?? (() => []),
    resolve: (given, context) => {
      const { id, rest } = own(given);
      const blockId = typeof id === 'string' ? id : '';
      const parsed = attributes.safeParse(rest);
      if (!parsed.success) {
        return [{ kind: 'missing', id: blockId, message: firstIssue(parts.label, parsed.error) }];
      }
      return parts.resolve({ ...parsed.data, id: blockId }, context);
    },
  };
}

/** Blocks by their node type. */
export type BlockRegistry = ReadonlyMap<string, Block>;

/** A registry of blocks; a name given twice is a fault of the program. */
export function makeBlockRegistry(blocks: readonly Block[]): BlockRegistry {
  const registry = new Map<string, Block>();
  for (const block of blocks) {
    if (registry.has(block.name)) throw new Error(`invariant: block ${block.name} defined twice`);
    registry.set(block.name, block);
  }
  return registry;
}
