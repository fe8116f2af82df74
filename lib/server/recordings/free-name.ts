/** `loop.wav`, `loop (2).wav` where that is taken: a name stands once in an exported folder. */
export function freeName(name: string, taken: ReadonlySet<string>): string {
  if (!taken.has(name)) return name;
  const dot = name.lastIndexOf('.') > 0 ? name.lastIndexOf('.') : name.length;
  for (let count = 2; ; count++) {
    const other = `${name.slice(0, dot)} (${count})${name.slice(dot)}`;
    if (!taken.has(other)) return other;
  }
}
