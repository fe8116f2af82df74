/** Values written into SQL. DuckDB takes no parameters in COPY and in table function options. */

/** A string literal; for a text with NUL, at which the parser would stop, an expression. */
export function sqlText(text: string): string {
  const parts = text.split('\0').map((part) => `'${part.replaceAll("'", "''")}'`);
  return parts.length === 1 ? parts.join('') : `(${parts.join(' || chr(0) || ')})`;
}

/** A column's or a table's name. */
export function sqlName(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/** A number literal that reads back as the same double. */
export function sqlDouble(value: number): string {
  if (Number.isNaN(value)) return "'nan'::DOUBLE";
  if (!Number.isFinite(value)) return value > 0 ? "'inf'::DOUBLE" : "'-inf'::DOUBLE";
  return `'${value}'::DOUBLE`;
}

/** A list of string literals. */
export function sqlTextList(texts: readonly string[]): string {
  return `[${texts.map(sqlText).join(', ')}]`;
}
