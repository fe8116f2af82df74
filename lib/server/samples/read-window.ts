export type WindowQuery = Readonly<{
  columns: readonly string[];
  fromS: number;
  toS: number;
  maxRows: number;
}>;

/** Rows with `fromS <= t <= toS`, oldest first; `cut` when there were more than `maxRows`. */
export type SampleWindow = Readonly<{
  tS: Float64Array;
  columns: readonly Readonly<{ column: string; values: Float64Array }>[];
  rowsInWindow: number;
  cut: boolean;
}>;

export async function readWindow(
  _samplesRoot: string,
  _folder: string,
  _query: WindowQuery,
): Promise<SampleWindow> {
  throw new Error('readWindow is not written yet');
}
