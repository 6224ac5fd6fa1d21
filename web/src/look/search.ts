/** Search in a list: what holds every word that was typed, wherever it stands. */
const folded = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase();

export function searched<T>(list: readonly T[], query: string, textOf: (one: T) => string): T[] {
  const words = folded(query).split(/\s+/).filter(Boolean);
  if (words.length === 0) return [...list];
  return list.filter((one) => {
    const text = folded(textOf(one));
    return words.every((word) => text.includes(word));
  });
}
