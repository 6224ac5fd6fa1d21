/** How what is open stands to the library. */
import type { PageDocument } from './state';

export type Standing = 'saved' | 'unsaved' | 'new';

/** `held`: SHA-256 of what the library held when the file was opened or saved last; null where it never was. */
export function standingOf(now: string | null, held: string | null): Standing {
  if (held === null) return 'new';
  return now === held ? 'saved' : 'unsaved';
}

/** Texts that are open, by their names; null for one that is yet to be written. */
export function openTexts(document: PageDocument): { name: string; text: string | null }[] {
  const { train, route, run, conditions, defects, rules } = document;
  return [train, route, run, conditions, defects, ...rules].filter((one) => one !== null).map(({ name, text }) => ({ name, text }));
}

/** SHA-256 in hexadecimal, as the library gives it. */
export async function sha256Of(text: string): Promise<string> {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
