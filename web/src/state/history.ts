/** Steps of undo and redo as they are kept beside a draft, for the tab alone: a reload loses none of them. */
import { documentFrom, type PageDocument, type State } from './state';
import type { Shelf } from './drafts';

const prefix = 'panup.history.';

export type History = Pick<State, 'past' | 'future'>;

/** Texts come again from step to step: each is kept once, and named by its place in the list. */
interface Packed {
  texts: string[];
  past: unknown[];
  future: unknown[];
}

function packed(history: History, most: number): Packed {
  const texts: string[] = [];
  const places = new Map<string, number>();
  const placeOf = (text: string): number => {
    const known = places.get(text);
    if (known !== undefined) return known;
    places.set(text, texts.length);
    texts.push(text);
    return texts.length - 1;
  };
  const held = (document: PageDocument): unknown => {
    const { train } = document;
    // The engine makes the model from the text.
    const slim = { ...document, train: train && { ...train, model: train.text === null ? train.model : null } };
    return JSON.parse(JSON.stringify(slim), (key, value: unknown) => (key === 'text' && typeof value === 'string' ? placeOf(value) : value));
  };
  return { past: history.past.slice(-most).map(held), future: history.future.slice(0, most).map(held), texts };
}

/** The last steps; fewer of them where the browser has no room for more. */
export function storeHistory(shelf: Shelf, id: string, history: History, most = 60): void {
  for (let steps = most; steps >= 1; steps = Math.floor(steps / 2)) {
    try {
      shelf.setItem(prefix + id, JSON.stringify(packed(history, steps)));
      return;
    } catch {
      // Tried again with half of them.
    }
  }
  shelf.removeItem(prefix + id);
}

/** Empty where there is none, or where what is kept cannot be read. */
export function readHistory(shelf: Shelf, id: string): History {
  try {
    const { texts, past, future } = JSON.parse(shelf.getItem(prefix + id) ?? '{}') as Partial<Packed>;
    const documents = (list: unknown[] | undefined): PageDocument[] =>
      (list ?? []).map((one) =>
        documentFrom(JSON.parse(JSON.stringify(one), (key, value: unknown) => (key === 'text' && typeof value === 'number' ? (texts?.[value] ?? null) : value))),
      );
    return { past: documents(past), future: documents(future) };
  } catch {
    return { past: [], future: [] };
  }
}
