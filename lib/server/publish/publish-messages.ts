/** What the server and its publishing process say to one another. */
import type { DocNode } from '@/lib/core/debrief/document';
import type { Imprint } from '@/lib/core/debrief/record';
import type { Broken } from '../jobs/child-answer';
import type { MaterialOutline } from './full-material';

export type PublishRequest = Readonly<{ doc: DocNode; outline: MaterialOutline; imprint: Imprint }>;

export type RenderedDebrief = Readonly<{ recordJson: string; sha256: string; html: string }>;

export type Rendering =
  | Readonly<{ kind: 'rendered'; rendered: RenderedDebrief }>
  | Readonly<{ kind: 'open-blocks'; messages: readonly string[] }>;

export type PublishAnswer = Rendering | Broken;
