import { describe, expect, test } from 'vitest';
import type { CardStanding, Day, DayOutcome, Decision, IssuedCard } from '../src/engine/answers';
import { addressOfCard, against, allOrNone, extended, holdsNoMore, no_names, questionOf, timeOfIssue, toggled } from '../src/day/cards';
import { columns_with_cards, filtered, no_filter, rowsOf, sorted, type DayRow } from '../src/day/rows';

const outcome = (number: string, decision: Decision): DayOutcome => ({
  number, departure: null, folder: number, train_file: '', route_file: '', run_file: null, decision,
  answer: '', train: { id: number, name: `Train ${number}` }, route: { id: 'a', name: 'Harl – Varn' }, invented: true,
  vehicles: [], least_speed: null, forbidden: [], consents_missing: [], without_consent: '', last_resorts: [],
  consents_used: [], consents_not_counting: [], defects: [], running_time_s: 100, orders: 3, inputs_sha256: `sum of ${number}`,
  mistakes: [], fault: '', since_shown: null,
});
const issue = (number: number): IssuedCard => ({
  place: 10 + number, issue: number, replaces: null, different: [], issued_at: '2031-05-12T18:00:00Z', issued_to: 'Depot',
  made_by: null, checked_by: null, released_by: null, holds_until: null, answer: '', card_sha256: '',
});
const standing = (number: string, last: number | null, holds: boolean | null): CardStanding => ({
  number, in_the_day: true, issue: last === null ? null : issue(last), holds, because: [], card_says_else_of: [], why: [],
});
const train = (number: string): Day['trains'][number] => ({
  number, departure: null, train_file: '', route_file: '', run_file: null, conditions: null, vehicles: [],
});
const day: Day = {
  path: 'd.toml', name: 'D', date: '2031-05-13', invented: true, rules: [], conditions: null, consents: [], defects: [],
  trains: ['1', '2', '3', '4', '5'].map(train),
};
const outcomes = new Map([
  ['1', outcome('1', 'permitted')], ['2', outcome('2', 'last resort')], ['3', outcome('3', 'consent needed')], ['4', outcome('4', 'permitted')],
]);
const cards = new Map([
  ['1', standing('1', null, null)], ['2', standing('2', 3, true)], ['3', standing('3', 1, false)],
]);
const rows = rowsOf(day, outcomes, new Map(), () => '', cards);
const row = (number: string): DayRow => {
  const found = rows.find((one) => one.number === number);
  if (!found) throw new Error(number);
  return found;
};
const numbers = (list: DayRow[]): string[] => list.map((one) => one.number);
const nothing: ReadonlyMap<string, string> = new Map();

describe('choosing trains', () => {
  test('one more, one less; what was chosen before is left alone', () => {
    const before = new Set(['1']);
    expect([...toggled(before, '2')]).toEqual(['1', '2']);
    expect([...toggled(before, '1')]).toEqual([]);
    expect([...before]).toEqual(['1']);
  });
  test('all from the one before, either way', () => {
    expect([...extended(new Set(['5']), rows, '2', '4')]).toEqual(['5', '2', '3', '4']);
    expect([...extended(new Set(), rows, '4', '2')]).toEqual(['2', '3', '4']);
    expect([...extended(new Set(), rows, null, '3')]).toEqual(['3']);
    expect([...extended(new Set(), rows.slice(2), '1', '4')]).toEqual(['4']);
  });
  test('all that are shown or none of them; the others stay', () => {
    const shown = rows.slice(0, 2);
    expect([...allOrNone(new Set(['5', '1']), shown)]).toEqual(['5', '1', '2']);
    expect([...allOrNone(new Set(['5', '1', '2']), shown)]).toEqual(['5']);
    expect([...allOrNone(new Set(['5']), [])]).toEqual(['5']);
  });
});

describe('what stands against a card', () => {
  test('nothing where there is a plan that may be handed out and no card that holds', () => {
    expect(against(row('1'), false, nothing)).toBeNull();
    expect(against(row('2'), true, nothing)).toBeNull();
  });
  test('a card that still holds, unless it is to be issued anew all the same', () => {
    expect(against(row('2'), false, nothing)).toEqual({ is: 'holds', issue: 3 });
  });
  test('no plan that may be handed out, or none yet', () => {
    expect(against(row('3'), true, nothing)).toEqual({ is: 'decision', decision: 'consent needed' });
    expect(against(row('5'), true, nothing)).toEqual({ is: 'not planned' });
  });
  test('nobody has looked whether one is out', () => {
    expect(against(row('4'), true, nothing)).toEqual({ is: 'not looked at' });
  });
  test('what the server said goes before', () => {
    expect(against(row('1'), false, new Map([['1', 'Its files have changed.']]))).toEqual({ is: 'refused', why: 'Its files have changed.' });
  });
});

describe('what is asked for', () => {
  test('each train as it is seen, with the issue that is replaced', () => {
    expect(questionOf('d.toml', [row('1'), row('2')], { ...no_names, to: ' Depot Harl ', made_by: ' ', checked_by: 'B', holds_until: '2031-05-14' }, 'de')).toEqual({
      day: 'd.toml',
      trains: [{ number: '1', inputs_sha256: 'sum of 1', replaces: null }, { number: '2', inputs_sha256: 'sum of 2', replaces: 3 }],
      to: 'Depot Harl', made_by: null, checked_by: 'B', released_by: null, holds_until: '2031-05-14', also_holding: false, language: 'de',
    });
  });
  test('where a card lies, and when it was issued', () => {
    expect(addressOfCard(issue(2))).toBe('/api/issued/12/card');
    expect(timeOfIssue('2031-05-12T18:00:59Z')).toBe('2031-05-12 18:00 UTC');
  });
});

describe('cards in the table', () => {
  test('only those that hold no more', () => {
    expect(numbers(filtered(rows, { ...no_filter, no_longer_only: true }))).toEqual(['3']);
    expect([row('1'), row('2'), row('3'), row('5')].map((one) => holdsNoMore(one.standing))).toEqual([false, false, true, false]);
  });
  test('what is to be taken back comes first, then what is to be issued; what is not known last', () => {
    expect(numbers(sorted(rows, { by: 'issued', down: false }))).toEqual(['3', '1', '2', '4', '5']);
    expect(numbers(sorted(rows, { by: 'issued', down: true }))).toEqual(['2', '1', '3', '4', '5']);
  });
  test('each column is there once', () => {
    expect(new Set(columns_with_cards).size).toBe(columns_with_cards.length);
  });
});
