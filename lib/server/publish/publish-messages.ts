/** What the server and its publishing process say to one another. */
import type { Approval } from '@/lib/core/debrief/approvals';
import type { DocNode } from '@/lib/core/debrief/document';
import type { Imprint } from '@/lib/core/debrief/record';
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import type { Broken } from '../jobs/child-answer';
import type { StoredInput } from '../jobs/stored-input';
import type { MaterialOutline } from './full-material';
import type { PackageInputs } from './package/package-material';
import type { WrittenFile } from './published-folder';

export type PublishRequest = Readonly<{
  doc: DocNode;
  outline: MaterialOutline;
  imprint: Imprint;
  /** Those that stand; the record takes up those that are of its content. */
  approvals: readonly Approval[];
  /** Roles without whose approval nothing is published. */
  requiredRoles: readonly string[];
  inputs: PackageInputs;
  /** What was known at instants: those that are there, and what the others are computed from. */
  polls: Readonly<{ known: ReadonlyMap<number, PollState>; stored: StoredInput | null }>;
  /** Where the files are written: a folder that is not there yet and that start-up sweeps away. */
  folder: string;
}>;

export type RenderedDebrief = Readonly<{
  recordJson: string;
  sha256: string;
  /** What the approvals in it are of. */
  contentSha256: string;
  files: readonly WrittenFile[];
}>;

export type Rendering =
  | Readonly<{ kind: 'rendered'; rendered: RenderedDebrief }>
  | Readonly<{ kind: 'open-blocks'; messages: readonly string[] }>
  | Readonly<{ kind: 'not-approved'; message: string }>;

export type PublishAnswer = Rendering | Broken;
