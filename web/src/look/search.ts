/** Search in a list: what holds every word that was typed, wherever it stands. */
const folded = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase();

/** A list of so many is seen at a glance, and has no search. */
export const short_list = 8;

/** Whether a text holds every word that was typed. */
export function isFoundIn(text: string, query: string): boolean {
  const in_text = folded(text);
  return folded(query)
    .split(/\s+/)
    .every((word) => in_text.includes(word));
}

export function searched<T>(list: readonly T[], query: string, textOf: (one: T) => string): T[] {
  return query.trim() === '' ? [...list] : list.filter((one) => isFoundIn(textOf(one), query));
}
