/** The faces that an exported page carries along, so that it looks the same everywhere. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { EmbeddedFont } from '@/lib/core/debrief/html/html-style';

/** Latin faces of IBM Plex (SIL Open Font License 1.1); other scripts use the reader's own fonts. */
const FACES: readonly Omit<EmbeddedFont, 'woff2Base64'>[] = [
  { family: 'IBM Plex Sans', weight: 400, style: 'normal' },
  { family: 'IBM Plex Sans', weight: 400, style: 'italic' },
  { family: 'IBM Plex Sans', weight: 600, style: 'normal' },
  { family: 'IBM Plex Mono', weight: 400, style: 'normal' },
];

function fileOf({ family, weight, style }: Omit<EmbeddedFont, 'woff2Base64'>): string {
  const name = family.toLowerCase().replaceAll(' ', '-');
  const file = `${name}-latin-${weight}-${style}.woff2`;
  return path.join(process.cwd(), 'node_modules', '@fontsource', name, 'files', file);
}

export async function readEmbeddedFonts(): Promise<readonly EmbeddedFont[]> {
  return Promise.all(
    FACES.map(async (face) => ({
      ...face,
      woff2Base64: (await readFile(fileOf(face))).toString('base64'),
    })),
  );
}
