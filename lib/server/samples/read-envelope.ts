export type EnvelopeQuery = Readonly<{
  columns: readonly string[];
  fromS: number;
  toS: number;
  /** Columns of the screen the window is drawn on; each gets one min and one max. */
  pixels: number;
}>;

/**
 * Smallest and largest sample in each of `pixels` equal parts of the window. NaN = no sample there.
 * `edgesS` has pixels + 1 entries. `exact` is false when a level file was used: a bin that lies
 * across an edge then counts on both sides, so an envelope may be wider than the samples, never
 * narrower.
 */
export type Envelope = Readonly<{
  fromS: number;
  toS: number;
  pixels: number;
  rowsPerBin: 1 | 64 | 4096;
  exact: boolean;
  series: readonly Readonly<{
    column: string;
    min: Float64Array;
    max: Float64Array;
    count: Float64Array;
  }>[];
}>;

export async function readEnvelope(
  _samplesRoot: string,
  _folder: string,
  _query: EnvelopeQuery,
): Promise<Envelope> {
  throw new Error('readEnvelope is not written yet');
}
