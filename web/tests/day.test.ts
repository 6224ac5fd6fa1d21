import { describe, expect, test } from 'vitest';
import type { Day, DayOutcome, Decision, TrainChange } from '../src/engine/answers';
import { addressFrom, fragmentOf } from '../src/day/address';
import { changedThings, changes, countsOf, filtered, isFound, neighbours, no_filter, rowsOf, sorted, sortedBy, type DayRow } from '../src/day/rows';
import { led, rowsInView, scrolledTo } from '../src/day/windowing';
import { firstState, keptFrom, reduce } from '../src/state/state';

const outcome = (number: string, decision: Decision, more: Partial<DayOutcome> = {}): DayOutcome => ({
  number, departure: null, folder: number, train_file: `trains/${number}.toml`, route_file: 'routes/a.toml', run_file: null, decision,
  answer: '', train: { id: number, name: `Train ${number}` }, route: { id: 'a', name: 'Harl – Varn' }, invented: true,
  vehicles: [], least_speed: null, forbidden: [], consents_missing: [], without_consent: '', last_resorts: [],
  consents_used: [], consents_not_counting: [], defects: [], running_time_s: 100, orders: 3, inputs_sha256: '',
  mistakes: [], fault: '', since_shown: null, ...more,
});
const kmh = (speed_kmh: number): Partial<DayOutcome> => ({ least_speed: { speed_kmh, from_km: 0, to_km: 1, reason: 'limit' } });
const said = { rule: 'r', text: 't', where: [] };

const short = (decision: Decision): TrainChange['before'] => ({ decision, answer: '', running_time_s: 100, orders: 3, inputs_sha256: '', mistakes: [], fault: '' });
const change = (number: string, fate: TrainChange['change'], more: Partial<TrainChange> = {}): TrainChange => ({
  number, departure: null, train_file: '', route_file: '', run_file: null, train: { id: '', name: '' }, route: { id: '', name: '' },
  change: fate, card_again: fate !== 'unchanged', card_says_else_of: [], longer_s: 0, before: short('permitted'), then: short('permitted'),
  stretches: [], orders: [], forbidden: [], consents_missing: [], last_resorts: [], consents_newly_used: [],
  consents_no_longer_used: [], failures: [], ...more,
});

const train = (number: string, departure: string | null): Day['trains'][number] => ({
  number, departure, train_file: `trains/${number}.toml`, route_file: 'routes/a.toml', run_file: null, conditions: null, vehicles: [`V ${number}`],
});
const day: Day = {
  path: 'days/d.toml', name: 'D', date: '2031-05-13', invented: true, rules: [], conditions: null, consents: [], defects: [],
  trains: [train('100', '07:00:00'), train('20', '05:10:00'), train('3', null), train('4', '05:10:30')],
};
const outcomes = new Map([
  ['100', outcome('100', 'permitted', { ...kmh(60), consents_used: [{ reference: 'C-7', given_by: 'X' }] })],
  ['20', outcome('20', 'consent needed', { ...kmh(100), consents_missing: [said] })],
  ['3', outcome('3', 'no permitted configuration', { orders: 9 })],
]);
const rows = (changed: TrainChange[] = []): DayRow[] =>
  rowsOf(day, outcomes, new Map(changed.map((one) => [one.number, one])), (path) => `named ${path}`);
const numbers = (list: DayRow[]): string[] => list.map((row) => row.number);

describe('rows of the day', () => {
  test('a train that is not planned yet is called as the library calls its file', () => {
    expect(rows().map((row) => row.train)).toEqual(['Train 100', 'Train 20', 'Train 3', 'named trains/4.toml']);
    expect(rows()[3]?.outcome).toBeNull();
  });
  test('departures are on the minute unless they are not', () => {
    expect(rows().map((row) => row.departure)).toEqual(['07:00', '05:10', '', '05:10:30']);
  });
  test('every word of a search has to be found, wherever it stands', () => {
    const [first] = rows();
    if (!first) throw new Error('no row');
    expect(isFound(first, 'varn 07:00')).toBe(true);
    expect(isFound(first, 'c-7')).toBe(true);
    expect(isFound(first, 'v 100')).toBe(true);
    expect(isFound(first, 'varn 05:10')).toBe(false);
    expect(isFound(first, 'VARN')).toBe(true);
    expect(isFound({ ...first, words: 'Öl nach Süden' }, 'ol sud')).toBe(true);
    expect(isFound(first, '  ')).toBe(true);
  });
  test('filters hold together, and none of a kind is all', () => {
    const changed = [change('20', 'slower'), change('3', 'unchanged'), change('100', 'no plan', { card_again: false })];
    const all = rows(changed);
    expect(numbers(filtered(all, no_filter))).toEqual(['100', '20', '3', '4']);
    expect(numbers(filtered(all, { ...no_filter, decisions: ['permitted', 'consent needed'] }))).toEqual(['100', '20']);
    expect(numbers(filtered(all, { ...no_filter, changed_only: true }))).toEqual(['20']);
    expect(numbers(filtered(all, { search: 'train 20', decisions: ['permitted'], changed_only: false, no_longer_only: false }))).toEqual([]);
  });
  test('a train without a plan before and then does not change', () => {
    expect(changes(change('1', 'no plan', { card_again: false }))).toBe(false);
    expect(changes(change('1', 'no plan', { card_again: true }))).toBe(true);
    expect(changes(change('1', 'other'))).toBe(true);
    expect(changes(null)).toBe(false);
  });
  test('counts are by decision, with those to come', () => {
    expect([...countsOf(rows())]).toEqual([['permitted', 1], ['consent needed', 1], ['no permitted configuration', 1], [null, 1]]);
  });
});

describe('sorting', () => {
  test('what needs a decision first, then by departure', () => {
    expect(numbers(sorted(rows(), { by: 'decision', down: false }))).toEqual(['3', '20', '100', '4']);
  });
  test('numbers go by their value', () => {
    expect(numbers(sorted(rows(), { by: 'number', down: false }))).toEqual(['3', '4', '20', '100']);
    expect(numbers(sorted(rows(), { by: 'number', down: true }))).toEqual(['100', '20', '4', '3']);
  });
  test('what is not known comes last, whichever way', () => {
    expect(numbers(sorted(rows(), { by: 'departure', down: false }))).toEqual(['20', '4', '100', '3']);
    expect(numbers(sorted(rows(), { by: 'departure', down: true }))).toEqual(['100', '4', '20', '3']);
    expect(numbers(sorted(rows(), { by: 'speed', down: false }))).toEqual(['100', '20', '4', '3']);
    expect(numbers(sorted(rows(), { by: 'speed', down: true }))).toEqual(['20', '100', '4', '3']);
  });
  test('missing consents come before used ones, those before none', () => {
    expect(numbers(sorted(rows(), { by: 'consents', down: false }))).toEqual(['20', '100', '3', '4']);
  });
  test('what is lost goes by seconds, what becomes of a train by urgency', () => {
    const all = rows([change('100', 'slower', { longer_s: 90 }), change('20', 'other', { longer_s: -5 }), change('3', 'no longer permitted', { longer_s: null }), change('4', 'unchanged')]);
    expect(numbers(sorted(all, { by: 'longer', down: true }))).toEqual(['100', '4', '20', '3']);
    expect(numbers(sorted(all, { by: 'change', down: false }))).toEqual(['3', '100', '20', '4']);
    expect(numbers(sorted(all, { by: 'card', down: false }))).toEqual(['20', '100', '3', '4']);
  });
  test('a column asked for again goes the other way', () => {
    const once = sortedBy({ by: 'decision', down: false }, 'train');
    expect(once).toEqual({ by: 'train', down: false });
    expect(sortedBy(once, 'train')).toEqual({ by: 'train', down: true });
    expect(sortedBy({ by: 'train', down: true }, 'train')).toEqual({ by: 'train', down: false });
  });
  test('neighbours are those of the table as it is shown', () => {
    const list = sorted(rows(), { by: 'number', down: false });
    expect(neighbours(list, '4')).toEqual({ place: 1, before: '3', after: '20' });
    expect(neighbours(list, '3')?.before).toBeNull();
    expect(neighbours(list, '100')?.after).toBeNull();
    expect(neighbours(list, '5')).toBeNull();
  });
});

describe('in what a train changes', () => {
  const runs = (raised: string[], speed_kmh: number): TrainChange['stretches'][number]['before'] => ({
    answer: 'permitted', lowered_for: null, raised, put_dead_in_tow: [], speed_kmh, speed_reason: '', least_distance_m: null,
    energy_supply: null, iced: false, reversed: false,
  });
  test('each thing is told apart', () => {
    const stretch = (before: ReturnType<typeof runs>, then: ReturnType<typeof runs>) => [{ from_km: 0, to_km: 1, before, then }];
    expect(changedThings(change('1', 'other'))).toEqual([]);
    expect(changedThings(change('1', 'slower', { stretches: stretch(runs(['1.1'], 80), runs(['1.1'], 60)) }))).toEqual(['speed']);
    expect(changedThings(change('1', 'other', { stretches: stretch(runs(['1.1'], 80), runs(['1.2'], 80)) }))).toEqual(['pantographs']);
    expect(changedThings(change('1', 'other', { orders: [{ how: 'new', before: null, then: null }] }))).toEqual(['orders']);
    expect(changedThings(change('1', 'consent needed', { then: short('consent needed'), consents_missing: [{ rule: '', text: '', before: [], then: [] }] }))).toEqual(['answer', 'consent']);
    expect(changedThings(change('1', 'other', { consents_no_longer_used: [{ reference: '', given_by: '' }] }))).toEqual(['consent']);
    expect(changedThings(change('1', 'other', { failures: [{ failed: '1.1', answer_before: null, answer_then: null, before_departure: [], on_the_road: [] }] }))).toEqual(['failures']);
  });
});

describe('rows in the document', () => {
  test('those that are seen and a few beyond, however many there are', () => {
    expect(rowsInView(1000, 30, 0, 300)).toEqual({ first: 0, end: 18 });
    expect(rowsInView(1000, 30, 15_000, 300)).toEqual({ first: 492, end: 518 });
    expect(rowsInView(1000, 30, 29_700, 300)).toEqual({ first: 982, end: 1000 });
    expect(rowsInView(3, 30, 0, 300)).toEqual({ first: 0, end: 3 });
    // Fewer rows than one has scrolled over: a filter was set.
    expect(rowsInView(3, 30, 9000, 300)).toEqual({ first: 0, end: 3 });
  });
  test('one scrolls as far as a row needs to be seen, and no further', () => {
    expect(scrolledTo(5, 30, 0, 300)).toBe(0);
    expect(scrolledTo(9, 30, 0, 300)).toBe(0);
    expect(scrolledTo(10, 30, 0, 300)).toBe(30);
    expect(scrolledTo(5, 30, 600, 300)).toBe(150);
  });
});

describe('keys in the grid', () => {
  const size = { row: 40, column: 8 };
  const at = { row: 10, column: 3 };
  test('arrows go by one, and stay within', () => {
    expect(led('ArrowDown', false, at, size, 9)).toEqual({ row: 11, column: 3 });
    expect(led('ArrowLeft', false, at, size, 9)).toEqual({ row: 10, column: 2 });
    expect(led('ArrowRight', false, { row: 0, column: 7 }, size, 9)).toEqual({ row: 0, column: 7 });
    expect(led('ArrowDown', false, { row: 39, column: 0 }, size, 9)).toEqual({ row: 39, column: 0 });
  });
  test('above the first row is the head', () => {
    expect(led('ArrowUp', false, { row: 0, column: 2 }, size, 9)).toEqual({ row: -1, column: 2 });
    expect(led('ArrowUp', false, { row: -1, column: 2 }, size, 9)).toEqual({ row: -1, column: 2 });
    expect(led('ArrowDown', false, { row: -1, column: 2 }, size, 9)).toEqual({ row: 0, column: 2 });
  });
  test('Page, Home and End', () => {
    expect(led('PageDown', false, at, size, 9)?.row).toBe(19);
    expect(led('PageUp', false, at, size, 20)?.row).toBe(0);
    expect(led('Home', false, at, size, 9)).toEqual({ row: 10, column: 0 });
    expect(led('End', false, at, size, 9)).toEqual({ row: 10, column: 7 });
    expect(led('Home', true, at, size, 9)).toEqual({ row: 0, column: 0 });
    expect(led('End', true, at, size, 9)).toEqual({ row: 39, column: 7 });
  });
  test('other keys are not for the grid', () => {
    expect(led('a', false, at, size, 9)).toBeNull();
    expect(led('Escape', false, at, size, 9)).toBeNull();
  });
});

describe('the address', () => {
  test('says again what was put into it', () => {
    for (const address of [
      { day: 'days/tuesday.toml', train: null, part: 1, what_if: null },
      { day: 'days/a & b.toml', train: 'Sp 7', part: 1, what_if: 'days/what-if/ice.toml' },
      { day: 'd.toml', train: '60412', part: 1, what_if: null },
    ]) {
      expect(addressFrom(fragmentOf(address))).toEqual(address);
    }
  });
  test('other fragments name no day', () => {
    for (const fragment of ['', '#', '#p1.abc', '#train=1', '#day=']) expect(addressFrom(fragment)).toBeNull();
  });
});

describe('the train of a day on the page', () => {
  const of_day = { file: 'days/d.toml', number: '7' };
  const opened = reduce(firstState('en', 'system'), {
    do: 'open',
    document: { train: { name: 'trains/t.toml', text: 'a', model: null }, route: { name: 'r.toml', text: 'b' }, run: null, conditions: null, defects: null, rules: [], of_day, speed_from: 'tables' },
  });
  test('stays so when its text or its route changes', () => {
    expect(reduce(opened, { do: 'edit text', place: { of: 'train' }, text: 'c' }).document.of_day).toEqual(of_day);
    expect(reduce(opened, { do: 'choose route', route: { name: 'o.toml', text: '' } }).document.of_day).toEqual(of_day);
  });
  test('another train has not its number and its consents', () => {
    expect(reduce(opened, { do: 'choose train', train: { name: 'trains/u.toml', text: '', model: null } }).document.of_day).toBeNull();
  });
  test('can be taken out of the day, and that undone', () => {
    const out = reduce(opened, { do: 'leave day' });
    expect(out.document).toEqual({ ...opened.document, of_day: null });
    expect(reduce(out, { do: 'undo' }).document.of_day).toEqual(of_day);
  });
  test('is kept in a draft, as far as it can be read', () => {
    const kept = (value: unknown) => keptFrom({ document: { train: null, route: null, of_day: value } })?.document.of_day;
    expect(kept(of_day)).toEqual(of_day);
    expect(kept({ file: 'days/d.toml' })).toBeNull();
    expect(kept('d')).toBeNull();
  });
});
