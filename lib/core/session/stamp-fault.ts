/**
 * What reading alone can see of the stamps, on the source's own clock. `jump`: the stamp of this line
 * lies more than five median steps after the one above it, from `startS` to `endS`.
 */
export type StampFault = Readonly<{
  kind: 'duplicate' | 'out_of_order' | 'jump';
  startS: number;
  endS: number;
  line: number;
  /** The file that the line stands in, where the source has several. */
  file?: string;
}>;

/** Where a fault stands, in words: `line 7`, of a source of several files `line 7 of late.csv`. */
export function linePlace({ line, file }: Readonly<{ line: number; file?: string }>): string {
  return file === undefined ? `line ${line}` : `line ${line} of ${file}`;
}
