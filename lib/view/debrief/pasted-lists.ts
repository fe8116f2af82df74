/** Items of lists that only say which level they are of, put into lists inside one another. */

export type ListKind = 'ol' | 'ul';

type Item = Readonly<{ level: number; kind: ListKind; html: string }>;

/** An element of our own that stands for an item until its neighbours are known. */
const MARK = 'x-list-item';
const ANY_MARK = new RegExp(`</?${MARK}\\b[^>]*>`, 'gi');
const START = new RegExp(`<${MARK} level="(\\d+)" kind="(ol|ul)">`, 'g');
const END = `</${MARK}>`;

/** More levels than any word processor has would be too deep for a draft. */
const MOST_LEVELS = 9;

/** What stands for one item. `html` is what it holds, in blocks. */
export function listItem(level: number, kind: ListKind, html: string): string {
  return `<${MARK} level="${level}" kind="${kind}">${html}${END}`;
}

/** Text from outside without elements of that name. */
export function withoutItemMarks(html: string): string {
  return html.replace(ANY_MARK, '');
}

/** Lists of a run of items; a level that is passed over is not made up. */
function nested(items: readonly Item[]): string {
  const least = Math.min(...items.map(({ level }) => level));
  const open: ListKind[] = [];
  let html = '';
  const close = () => {
    html += `</li></${open.pop()}>`;
  };
  for (const item of items) {
    const level = Math.min(item.level - least + 1, open.length + 1, MOST_LEVELS);
    while (open.length > level) close();
    if (open.length === level && open[level - 1] !== item.kind) close();
    if (open.length === level) html += '</li>';
    else {
      html += `<${item.kind}>`;
      open.push(item.kind);
    }
    html += `<li>${item.html}`;
  }
  while (open.length > 0) close();
  return html;
}

/** Items that say their level in `aria-level`, each in a list of its own or all in one flat list. */
const FLAT_LIST = /<(ul|ol)\b[^>]*>((?:(?!<\/?(?:ul|ol)\b)[\s\S])*)<\/\1>/gi;
const WRAPPER = /<div\b[^>]*\bListContainerWrapper\b[^>]*>/gi;

/** Nesting of lists at each place where a flat one starts. */
function isInside(html: string, at: number): boolean {
  const before = html.slice(Math.max(0, at - 20_000), at);
  const opened = before.match(/<(?:ul|ol)\b/gi)?.length ?? 0;
  const closed = before.match(/<\/(?:ul|ol)>/gi)?.length ?? 0;
  return opened > closed;
}

function leveled(html: string): string {
  if (!/aria-level=/i.test(html)) return html;
  const flat = html.replace(
    FLAT_LIST,
    (whole: string, kind: string, inside: string, at: number) => {
      const parts = inside.split(/<li\b([^>]*)>/i);
      const levels = parts
        .filter((_, index) => index % 2 === 1)
        .map((attributes) =>
          Number(/\baria-level=["']?(\d{1,2})/i.exec(attributes)?.[1] ?? Number.NaN),
        );
      if (levels.length === 0 || levels.some(Number.isNaN) || isInside(html, at)) return whole;
      return levels
        .map((level, index) => {
          const words = (parts[2 * index + 2] ?? '').replace(/<\/li>\s*$/i, '');
          return listItem(level, kind.toLowerCase() === 'ol' ? 'ol' : 'ul', words);
        })
        .join('');
    },
  );
  if (flat === html) return html;
  // Each item may lie in a box of its own, whose end the browser passes over once the box is gone.
  return flat.replace(WRAPPER, '').replace(new RegExp(`${END}\\s*</div>`, 'g'), END);
}

/** Puts runs of items, with white space between at most, into lists. */
export function joinedItems(given: string): string {
  const html = leveled(given);
  let made = '';
  let at = 0;
  let run: Item[] = [];
  const put = () => {
    if (run.length > 0) made += nested(run);
    run = [];
  };
  for (const { index, 0: start, 1: level, 2: kind } of html.matchAll(START)) {
    const between = html.slice(at, index);
    if (between.trim() !== '') {
      put();
      made += between;
    }
    const from = index + start.length;
    const end = html.indexOf(END, from);
    run.push({
      level: Number(level),
      kind: kind === 'ol' ? 'ol' : 'ul',
      html: html.slice(from, end),
    });
    at = end + END.length;
  }
  put();
  return made + html.slice(at);
}
