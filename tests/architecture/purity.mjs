// What core and view may not ask for: time, chance, the network, the console, the reader's locale.
const IMPURE =
  /\bDate\b|\bMath\.random\b|\bfetch\(|\bconsole\.|\bprocess\.|\bset(Timeout|Interval)\b|\bperformance\.|\bcrypto\.(randomUUID|getRandomValues)\b|\bIntl\.|\.toLocale|\.localeCompare\(/;

/** The lines of a source text that ask for one of them, as `file:line: text`; comments are free. */
export function findImpure(file, text) {
  return text
    .split('\n')
    .flatMap((line, index) =>
      IMPURE.test(line) && !/^\s*(\*|\/\/|\/\*)/.test(line)
        ? [`${file}:${index + 1}: ${line.trim()}`]
        : [],
    );
}
