import { describe, expect, test } from 'vitest';
import { fileNameOf, slug } from '../src/files/name';
import { readHistory, storeHistory } from '../src/state/history';
import { openTexts, sha256Of, standingOf } from '../src/state/standing';
import { empty_document, type PageDocument } from '../src/state/state';

class MapShelf {
  readonly map = new Map<string, string>();
  constructor(private readonly room = Infinity) {}
  getItem = (key: string): string | null => this.map.get(key) ?? null;
  setItem = (key: string, value: string): void => {
    if (value.length > this.room) throw new DOMException('full', 'QuotaExceededError');
    this.map.set(key, value);
  };
  removeItem = (key: string): void => void this.map.delete(key);
  key = (index: number): string | null => [...this.map.keys()][index] ?? null;
  get length(): number {
    return this.map.size;
  }
}

const route = { name: 'routes/r.toml', text: 'r'.repeat(1000) };
const step = (n: number): PageDocument => ({ ...empty_document, train: { name: 'trains/t.toml', text: `train ${n}`, model: { name: `train ${n}`.padEnd(400), consist: [] } as never }, route });

describe('what is open', () => {
  test('is new where the library never had it, unsaved where it is another text by now', () => {
    expect(standingOf('a', null)).toBe('new');
    expect(standingOf(null, 'a')).toBe('unsaved');
    expect(standingOf('b', 'a')).toBe('unsaved');
    expect(standingOf('a', 'a')).toBe('saved');
  });
  test('is told by the sum that the library has', async () => {
    // FIPS 180-4: the example "abc".
    expect(await sha256Of('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });
  test('is every text of the document, written or not', () => {
    const document = { ...step(1), rules: [{ name: 'rules/a.toml', text: 'a' }], train: { name: 'trains/t.toml', text: null, model: null } };
    expect(openTexts(document).map((one) => [one.name, one.text?.length ?? null])).toEqual([['trains/t.toml', null], ['routes/r.toml', 1000], ['rules/a.toml', 1]]);
  });
});

describe('steps of undo', () => {
  const history = { past: [step(1), step(2), step(3)], future: [step(5)] };
  test('come back as they were; the engine makes a model from its text', () => {
    const shelf = new MapShelf();
    storeHistory(shelf, 'one', history);
    const back = readHistory(shelf, 'one');
    expect(back.past.map((one) => one.train)).toEqual([1, 2, 3].map((n) => ({ name: 'trains/t.toml', text: `train ${n}`, model: null })));
    expect(back.future.map((one) => one.train?.text)).toEqual(['train 5']);
    expect(back.past[0]?.route).toEqual(route);
    expect(readHistory(shelf, 'another')).toEqual({ past: [], future: [] });
  });
  test('keep a train that has no text yet by its model', () => {
    const shelf = new MapShelf();
    const model = { name: 'new', consist: [] } as never;
    storeHistory(shelf, 'one', { past: [{ ...empty_document, train: { name: 'trains/n.toml', text: null, model } }], future: [] });
    expect(readHistory(shelf, 'one').past[0]?.train).toEqual({ name: 'trains/n.toml', text: null, model });
  });
  test('hold each text once', () => {
    const shelf = new MapShelf();
    storeHistory(shelf, 'one', history);
    expect(shelf.getItem('panup.history.one')?.length).toBeLessThan(2600);
  });
  test('the last of them stay where there is little room, and none where there is none', () => {
    const many = { past: Array.from({ length: 60 }, (_, n) => step(n)), future: [] };
    const little = new MapShelf(4000);
    storeHistory(little, 'one', many);
    const { past } = readHistory(little, 'one');
    expect(past.length).toBeGreaterThan(3);
    expect(past.length).toBeLessThan(60);
    expect(past.at(-1)?.train?.text).toBe('train 59');
    const none = new MapShelf(10);
    none.map.set('panup.history.one', 'old');
    storeHistory(none, 'one', many);
    expect(none.getItem('panup.history.one')).toBeNull();
  });
  test('that cannot be read are none', () => {
    const shelf = new MapShelf();
    shelf.map.set('panup.history.one', '{"past": 3');
    expect(readHistory(shelf, 'one')).toEqual({ past: [], future: [] });
  });
});

describe('names of files that are handed out', () => {
  test('say what it is, of which train, where and when', () => {
    expect(fileNameOf('Driver’s card', 'Petrol to Port Selmo', 'Harl – Port Selmo', new Date(2026, 10, 3), 'pdf')).toBe('Drivers-card_Petrol-to-Port-Selmo_Harl-Port-Selmo_2026-11-03.pdf');
    expect(fileNameOf('Bericht', 'Öl', '', new Date(2026, 0, 3), 'html')).toBe('Bericht_Öl_2026-01-03.html');
  });
  test('are good on any system', () => {
    expect(slug('../a\\b: "c"?*')).toBe('a-b-c');
    expect(slug('x'.repeat(200)).length).toBe(60);
  });
});
