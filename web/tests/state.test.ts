import { describe, expect, test } from 'vitest';
import type { TrainModel } from '../src/engine/answers';
import { fromLink, linkOf } from '../src/state/link';
import { listDrafts, readDraft, removeDraft, storeDraft, type Shelf } from '../src/state/drafts';
import { firstState, keptFrom, keptOf, longest_past, reduce, textAt, type PageEvent, type State } from '../src/state/state';

const model = (name: string): TrainModel => ({
  id: 't', name, operated_by: null, invented: true, stock: [], highest_speed_kmh: null, acceleration_ms2: 0.2,
  braking_ms2: 0.4, consist: [], high_voltage_lines: [], consents: [], release: null, deviations: [],
});
const run = (state: State, ...events: PageEvent[]): State => events.reduce(reduce, state);
const opened = run(
  firstState('en', 'system'),
  { do: 'choose train', train: { name: 'trains/t.toml', text: 'kind = "train"', model: null } },
  { do: 'choose route', route: { name: 'routes/r.toml', text: 'kind = "route"' } },
);

describe('the train as text and as model', () => {
  test('an edit of the model leaves no text to be mistaken for it', () => {
    const edited = run(opened, { do: 'edit train', model: model('B') });
    expect(edited.document.train).toEqual({ name: 'trains/t.toml', text: null, model: model('B') });
    expect(textAt(edited.document, { of: 'train' })).toBeNull();
  });
  test('a text that arrives for a train that has changed since is dropped', () => {
    const first = model('first');
    const edited = run(opened, { do: 'edit train', model: first }, { do: 'edit train', model: model('second') });
    expect(run(edited, { do: 'train written', model: first, text: 'late' })).toBe(edited);
    expect(run(opened, { do: 'train read', text: 'another', model: first })).toBe(opened);
  });
  test('reading and writing are no steps of undo', () => {
    const read = run(opened, { do: 'train read', text: 'kind = "train"', model: model('A') });
    expect(read.past.length).toBe(opened.past.length);
    expect(read.document.train?.model?.name).toBe('A');
  });
});

describe('undo and redo', () => {
  test('go over the train and the route, not over where one looks', () => {
    const edited = run(opened, { do: 'edit train', model: model('B') }, { do: 'go to', at_km: 12 });
    const undone = run(edited, { do: 'undo' });
    expect(undone.document).toEqual(opened.document);
    expect(undone.view.at_km).toBe(12);
    expect(run(undone, { do: 'redo' }).document).toEqual(edited.document);
  });
  test('typing in one text is one step', () => {
    const typed = run(
      opened,
      { do: 'edit text', place: { of: 'train' }, text: 'a' },
      { do: 'edit text', place: { of: 'train' }, text: 'ab' },
      { do: 'edit text', place: { of: 'route' }, text: 'r' },
    );
    expect(run(typed, { do: 'undo' }).document.train?.text).toBe('ab');
    expect(run(typed, { do: 'undo' }, { do: 'undo' }).document.train?.text).toBe('kind = "train"');
  });
  test('a change after an undo leaves nothing to redo', () => {
    const state = run(opened, { do: 'edit train', model: model('B') }, { do: 'undo' }, { do: 'edit train', model: model('C') });
    expect(state.future).toEqual([]);
    expect(run(state, { do: 'redo' })).toBe(state);
  });
  test('the past is bounded', () => {
    let state = opened;
    for (let i = 0; i < longest_past + 20; ++i) state = run(state, { do: 'edit train', model: model(String(i)) });
    expect(state.past.length).toBe(longest_past);
  });
  test('nothing happens at either end', () => {
    const empty = firstState('en', 'system');
    expect(run(empty, { do: 'undo' }, { do: 'redo' })).toBe(empty);
  });
});

describe('links', () => {
  test('reproduce the document and the view', async () => {
    const state = run(opened, { do: 'go to', at_km: 61.82 }, { do: 'fail', failed: '1.2' }, { do: 'ask', asked: ['1.1', '2.2'] });
    const link = await linkOf(keptOf(state));
    expect(link).toMatch(/^[A-Za-z0-9._-]+$/);
    const back = await fromLink(`#${link}`);
    expect(back?.document).toEqual(state.document);
    expect(back?.view).toMatchObject({ at_km: 61.82, failed: '1.2', asked: ['1.1', '2.2'], part: 'plan' });
  });
  test('are a good deal shorter than what they hold', async () => {
    const long = run(opened, { do: 'edit text', place: { of: 'route' }, text: '[[section]]\nline_speed_kmh = 120\n'.repeat(300) });
    expect((await linkOf(keptOf(long))).length).toBeLessThan(1500);
  });
  test('that are damaged or of another kind are refused', async () => {
    const link = await linkOf(keptOf(opened));
    expect(await fromLink(link.slice(0, link.length - 20))).toBeNull();
    expect(await fromLink('train')).toBeNull();
    expect(await fromLink('p1.!!')).toBeNull();
  });
  test('that hold something else are taken as far as they can be', () => {
    const kept = keptFrom({ document: { train: { name: 3 }, route: 'x', rules: [{ name: 'r', text: 't' }, 5] }, view: { at_km: 'far', part: 'engine' } });
    expect(kept?.document).toEqual({ train: null, route: null, run: null, conditions: null, defects: null, rules: [{ name: 'r', text: 't' }], of_day: null, speed_from: 'tables' });
    expect(kept?.view).toMatchObject({ at_km: 0, part: 'plan' });
    expect(keptFrom([])).toBeNull();
  });
});

describe('drafts', () => {
  class MapShelf implements Shelf {
    private readonly map = new Map<string, string>();
    room = Infinity;
    get length(): number {
      return this.map.size;
    }
    getItem(key: string): string | null {
      return this.map.get(key) ?? null;
    }
    setItem(key: string, value: string): void {
      if (value.length > this.room) throw new Error('no room');
      this.map.set(key, value);
    }
    removeItem(key: string): void {
      this.map.delete(key);
    }
    key(index: number): string | null {
      return [...this.map.keys()][index] ?? null;
    }
  }
  test('are read back as they were, and listed with the newest first', () => {
    const shelf = new MapShelf();
    shelf.setItem('panup.choices', '{}');
    storeDraft(shelf, 'a', 'first', keptOf(opened), new Date('2030-01-01T10:00:00Z'));
    storeDraft(shelf, 'b', 'second', keptOf(opened), new Date('2030-01-02T10:00:00Z'));
    expect(listDrafts(shelf).map((draft) => draft.title)).toEqual(['second', 'first']);
    expect(readDraft(shelf, 'a')?.document).toEqual(opened.document);
    removeDraft(shelf, 'a');
    expect(readDraft(shelf, 'a')).toBeNull();
    expect(listDrafts(shelf).length).toBe(1);
  });
  test('that find no room are reported, and the one before stays', () => {
    const shelf = new MapShelf();
    expect(storeDraft(shelf, 'a', 'kept', keptOf(opened), new Date(0))).toBe(true);
    shelf.room = 10;
    expect(storeDraft(shelf, 'a', 'lost', keptOf(opened), new Date(1))).toBe(false);
    expect(listDrafts(shelf)[0]?.title).toBe('kept');
  });
  test('that are damaged do no harm', () => {
    const shelf = new MapShelf();
    shelf.setItem('panup.draft.x', '{"id":');
    expect(listDrafts(shelf)).toEqual([]);
    expect(readDraft(shelf, 'x')).toBeNull();
  });
});
