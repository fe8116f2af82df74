/** Rows that a quote without its fellow has taken in. */
import { endsInQuotes, splitLines } from '@/lib/core/intake/split-lines';
import type { Issue } from '@/lib/core/result';
import type { DataResult } from './data-result';
import { placeOf } from './import-issues';

/** Lines lost in a quote beyond this share of the file mean that the file is not what was meant. */
const MOST_SWALLOWED = 0.1;
/** DuckDB keeps so many characters of a record that it set aside. */
const KEPT_OF_RECORD = 10_000;

/** How many lines a record takes in beside its first, its quote being open at its end. */
function linesInQuote(text: string, separator: string): number | null {
  if (text.length >= KEPT_OF_RECORD) return null;
  const lines = splitLines(text);
  let isOpen = false;
  for (const line of lines) isOpen = endsInQuotes(line, separator, isOpen);
  return isOpen ? lines.length - 1 : 0;
}

/**
 * A quote that nothing closes takes the lines after it into one record.
 *
 * @param filledLines lines under the header with at least one character
 */
export function quoteIssues(
  file: string,
  data: DataResult,
  { filledLines, separator }: Readonly<{ filledLines: number; separator: string }>,
): Issue[] {
  const broken = data.rejects
    .filter(({ reason }) => reason === 'row-unreadable')
    .map((reject) => ({ reject, lines: linesInQuote(reject.text, separator) }))
    .find(({ lines }) => lines !== 0);
  if (broken === undefined) return [];
  const swallowed = broken.lines ?? filledLines - data.rowsRead - data.remarks;
  if (swallowed <= 0) return [];
  return [
    {
      code: 'quote-not-closed',
      severity: swallowed > MOST_SWALLOWED * filledLines ? 'error' : 'warning',
      ...placeOf(file, broken.reject),
      message: `a quote is not closed here, and ${swallowed} of ${filledLines} lines stand inside it`,
      expected: 'quotes in pairs',
      received: `${swallowed} lines in a quote`,
    },
  ];
}
