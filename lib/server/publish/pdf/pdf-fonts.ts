/** The faces that a PDF embeds: IBM Plex (SIL Open Font License 1.1), whole, from the registry. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Coverage } from '@/lib/core/debrief/pdf/glyph-text';
import { fontCoverage } from './font-coverage';

const SANS = ['400Regular', '400Regular_Italic', '600SemiBold', '600SemiBold_Italic'] as const;

const FILES: readonly string[] = [
  ...SANS.map((style) => `ibm-plex-sans/${style}/IBMPlexSans_${style}.ttf`),
  'ibm-plex-mono/400Regular/IBMPlexMono_400Regular.ttf',
];

export type PdfFonts = Readonly<{
  files: readonly Buffer[];
  /** Characters that every face has: a text may be set in any of them. */
  coverage: Coverage;
}>;

async function readFonts(): Promise<PdfFonts> {
  const root = path.join(process.cwd(), 'node_modules', '@expo-google-fonts');
  const files = await Promise.all(FILES.map((file) => readFile(path.join(root, file))));
  const [first = new Set<number>(), ...others] = files.map(fontCoverage);
  const coverage = new Set([...first].filter((code) => others.every((each) => each.has(code))));
  return { files, coverage };
}

let fonts: Promise<PdfFonts> | null = null;

/** Read once a process. */
export function loadPdfFonts(): Promise<PdfFonts> {
  fonts ??= readFonts();
  return fonts;
}
