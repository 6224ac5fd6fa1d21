/** The state in the fragment of a link: JSON, deflated, in the URL's alphabet of base 64. A
 *  fragment is not sent to any server. */
import { keptFrom, type Kept } from './state';

const mark = 'p1.';
/** A link's text may not grow without bound when inflated. */
const greatest_length = 8_000_000;

async function through(bytes: Uint8Array, way: CompressionStream | DecompressionStream, most: number): Promise<Uint8Array> {
  const stream = new Blob([bytes as BlobPart]).stream().pipeThrough(way as ReadableWritablePair<Uint8Array, BufferSource>);
  const reader = stream.getReader();
  const pieces: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new RangeError('too long');
    }
    pieces.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

function toLetters(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

function fromLetters(letters: string): Uint8Array {
  const binary = atob(letters.replace(/-/g, '+').replace(/_/g, '/'));
  return Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
}

/** The fragment, without its `#`. */
export async function linkOf(kept: Kept): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(kept));
  return mark + toLetters(await through(bytes, new CompressionStream('deflate-raw'), Infinity));
}

/** What a fragment says; null where it is not one of ours, or damaged. */
export async function fromLink(fragment: string): Promise<Kept | null> {
  const letters = fragment.replace(/^#/, '');
  if (!letters.startsWith(mark)) return null;
  try {
    const bytes = await through(
      fromLetters(letters.slice(mark.length)),
      new DecompressionStream('deflate-raw'),
      greatest_length,
    );
    return keptFrom(JSON.parse(new TextDecoder().decode(bytes)));
  } catch {
    return null;
  }
}
