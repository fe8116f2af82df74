/**
 * The name that people read for a step or a rule, from the id its author gave it.
 *
 * @param id as written in the plan or the rules, such as `hold-100`
 * @returns `Hold 100`; the id itself where it has no letter or digit to show
 */
export function nameFromId(id: string): string {
  const words = id.replace(/[-_]+/g, ' ').trim();
  return words === '' ? id : words.charAt(0).toUpperCase() + words.slice(1);
}
