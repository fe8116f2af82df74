/** The flight cut into equal parts of time, for the pictures of the approach. */

/** Least and greatest value in each part; NaN where there is none. */
export type PartRange = Readonly<{ low: Float64Array; high: Float64Array }>;

/** Columns by their derived names; `tS` is the middle of each part, session time. */
export type ApproachTrack = Readonly<{
  tS: Float64Array;
  columns: ReadonlyMap<string, PartRange>;
}>;

/** The middle of a part's values; NaN where there is none or the column is not known. */
export function middleAt(track: ApproachTrack, column: string, part: number): number {
  const found = track.columns.get(column);
  return ((found?.low[part] ?? Number.NaN) + (found?.high[part] ?? Number.NaN)) / 2;
}

/** Middles of all parts of a column. */
export function middles(track: ApproachTrack, column: string): Float64Array {
  return track.tS.map((_, part) => middleAt(track, column, part));
}

/** When the flight was first nearer than a distance, s; the start where it never was. */
export function nearStartS(track: ApproachTrack, nearM: number): number {
  const along = track.columns.has('axial_distance') ? 'axial_distance' : 'range';
  const values = middles(track, along);
  const first = values.findIndex((value) => value <= nearM);
  return track.tS[Math.max(0, first)] ?? 0;
}

/**
 * The track without the parts beyond a distance, so that a picture of what is near has its own scale.
 *
 * @param nearM axial distance (or range, where there is none) kept at most, m; null keeps all
 */
export function nearPart(track: ApproachTrack, nearM: number | null): ApproachTrack {
  if (nearM === null) return track;
  const along = track.columns.has('axial_distance') ? 'axial_distance' : 'range';
  const out = (part: number): boolean => !(middleAt(track, along, part) <= nearM);
  const columns = [...track.columns].map(([name, { low, high }]): [string, PartRange] => {
    const keep = (values: Float64Array): Float64Array =>
      values.map((value, part) => (out(part) ? Number.NaN : value));
    return [name, { low: keep(low), high: keep(high) }];
  });
  return { tS: track.tS, columns: new Map(columns) };
}
