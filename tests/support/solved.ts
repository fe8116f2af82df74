/** Solves a x = b for symmetric a, and the logarithm of its determinant, by plain elimination. */
export function solved(a: readonly (readonly number[])[], b: readonly number[]) {
  const rows = a.map((row, i) => [...row, b[i] ?? 0]);
  const n = rows.length;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const pivot = rows[i]?.[i] ?? Number.NaN;
    logDeterminant += Math.log(pivot);
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const share = (rows[r]?.[i] ?? 0) / pivot;
      for (let c = i; c <= n; c++) {
        const row = rows[r];
        if (row !== undefined) row[c] = (row[c] ?? 0) - share * (rows[i]?.[c] ?? 0);
      }
    }
  }
  return { x: rows.map((row, i) => (row[n] ?? 0) / (row[i] ?? 1)), logDeterminant };
}
