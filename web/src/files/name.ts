/** Under which name a file that is handed out is kept. */

/** Words as a name of a file on any system: letters and figures of any language, hyphens between. */
export const slug = (words: string): string =>
  words
    .normalize('NFC')
    .replace(/['’]/g, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);

/** "card_Petrol-to-Port-Selmo_Harl-Port-Selmo_2026-11-30.pdf". */
export function fileNameOf(what: string, train: string, way: string, day: Date, ending: string): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  const date = `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
  return `${[slug(what), slug(train), slug(way), date].filter(Boolean).join('_')}.${ending}`;
}
