/** The trains of a day as rows of a table: what is searched, filtered, sorted and counted. Nothing
 *  here knows of the browser. */
import type { CardStanding, Day, DayOutcome, Decision, TrainChange } from '../engine/answers';
import { isFoundIn } from '../look/search';
import { holdsNoMore } from './cards';

/** By what a desk has to do about a train, the most urgent first. */
export const decisions: Decision[] = [
  'fault of the program',
  'input mistakes',
  'no permitted configuration',
  'consent needed',
  'last resort',
  'permitted',
];

export interface DayRow {
  number: string;
  /** HH:MM, with seconds where it is not on the minute; empty: not stated. */
  departure: string;
  train: string;
  route: string;
  /** Null: it is not planned yet. */
  outcome: DayOutcome | null;
  /** What becomes of it in the other day; null where none is looked at. */
  change: TrainChange | null;
  /** How its card stands; null: that was not looked at. */
  standing: CardStanding | null;
  /** What a search looks through. */
  words: string;
}

const departureText = (departure: string | null): string => (departure ?? '').replace(/:00$/, '');

/** A row for each train of the day, in the order of its file. Until a train is planned it is called
 *  as the library lists its files: `nameOf` gives that by the path. */
export function rowsOf(
  day: Day,
  outcomes: ReadonlyMap<string, DayOutcome>,
  changes: ReadonlyMap<string, TrainChange>,
  nameOf: (path: string) => string,
  cards: ReadonlyMap<string, CardStanding> = new Map(),
): DayRow[] {
  return day.trains.map((train) => {
    const outcome = outcomes.get(train.number) ?? null;
    const row = {
      number: train.number,
      departure: departureText(train.departure),
      train: outcome?.train.name || nameOf(train.run_file ?? train.train_file),
      route: outcome?.route.name || nameOf(train.route_file),
      outcome,
      change: changes.get(train.number) ?? null,
      standing: cards.get(train.number) ?? null,
    };
    const consents = [...(outcome?.consents_used ?? []), ...(outcome?.consents_not_counting ?? [])];
    const vehicles = outcome && outcome.vehicles.length > 0 ? outcome.vehicles : train.vehicles;
    const all = [row.number, row.departure, row.train, row.route, ...vehicles, ...consents.map((one) => one.reference)];
    return { ...row, words: all.join('\n') };
  });
}

/** Whether every word that is searched for is found in the row, wherever it is. */
export function isFound(row: DayRow, search: string): boolean {
  return isFoundIn(row.words, search);
}

/** What a desk would have to do anew: a train without a plan before and then is not compared, and
 *  its card is in doubt only where one of the two is missing. */
export const changes = (change: TrainChange | null): boolean =>
  change !== null && (change.change === 'no plan' ? change.card_again : change.change !== 'unchanged');

export interface Filter {
  search: string;
  /** Empty: all of them. */
  decisions: Decision[];
  changed_only: boolean;
  /** Only those whose card holds no more. */
  no_longer_only: boolean;
}

export const no_filter: Filter = { search: '', decisions: [], changed_only: false, no_longer_only: false };

export function filtered(rows: DayRow[], filter: Filter): DayRow[] {
  return rows.filter(
    (row) =>
      (filter.decisions.length === 0 || (row.outcome !== null && filter.decisions.includes(row.outcome.decision))) &&
      (!filter.changed_only || changes(row.change)) &&
      (!filter.no_longer_only || holdsNoMore(row.standing)) &&
      isFound(row, filter.search),
  );
}

/** How many trains there are of each decision, whatever is filtered; `null` counts those to come. */
export function countsOf(rows: DayRow[]): Map<Decision | null, number> {
  const counts = new Map<Decision | null, number>();
  for (const row of rows) {
    const key = row.outcome?.decision ?? null;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return counts;
}

export type Column =
  | 'number'
  | 'departure'
  | 'train'
  | 'route'
  | 'decision'
  | 'speed'
  | 'consents'
  | 'orders'
  | 'change'
  | 'longer'
  | 'card'
  | 'choose'
  | 'issued';

export const columns_of_day: Column[] = ['number', 'departure', 'train', 'route', 'decision', 'speed', 'consents', 'orders'];
/** With a register: what was issued, and the boxes to choose trains by. */
export const columns_with_cards: Column[] = ['choose', ...columns_of_day, 'issued'];
export const columns_of_comparison: Column[] = ['change', 'longer', 'card'];

export interface Sorting {
  by: Column;
  down: boolean;
}

/** What needs a decision first. */
export const first_sorting: Sorting = { by: 'decision', down: false };

/** The most urgent first, as the engine orders them. */
const fates: TrainChange['change'][] = ['no plan', 'no longer permitted', 'consent needed', 'last resort', 'slower', 'other', 'unchanged'];

type Key = number | string | null;

function keyOf(row: DayRow, by: Column): Key {
  const { outcome, change } = row;
  const planned = outcome !== null && outcome.decision !== 'fault of the program' && outcome.decision !== 'input mistakes';
  switch (by) {
    case 'number':
      return row.number;
    case 'departure':
      return row.departure === '' ? null : row.departure;
    case 'train':
      return row.train;
    case 'route':
      return row.route;
    case 'decision':
      return outcome ? decisions.indexOf(outcome.decision) : null;
    case 'speed':
      return outcome?.least_speed?.speed_kmh ?? null;
    // Missing ones weigh most: they are what somebody has to ask for.
    case 'consents':
      return planned ? -(outcome.consents_missing.length * 1000 + outcome.consents_used.length) : null;
    case 'orders':
      return planned ? outcome.orders : null;
    case 'change':
      return change ? fates.indexOf(change.change) : null;
    case 'longer':
      return change?.longer_s ?? null;
    case 'card':
      return change ? Number(!change.card_again) : null;
    case 'choose':
      return null;
    // What is to be taken back first, then what is still to be issued.
    case 'issued':
      return row.standing ? (holdsNoMore(row.standing) ? 0 : row.standing.issue ? 2 : 1) : null;
  }
}

const numerals = new Intl.Collator('en', { numeric: true });

const compared = (a: Key, b: Key): number =>
  typeof a === 'number' && typeof b === 'number' ? a - b : numerals.compare(String(a), String(b));

/** Of times, which have all their noughts. */
const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Rows in another order. What has nothing to be sorted by comes last, whichever way; rows that are
 *  alike come by departure, then by number. */
export function sorted(rows: DayRow[], { by, down }: Sorting): DayRow[] {
  const by_time = rows
    .map((row) => ({ row, key: keyOf(row, by) }))
    .sort((a, b) => Number(a.row.departure === '') - Number(b.row.departure === '') || byText(a.row.departure, b.row.departure) || compared(a.row.number, b.row.number));
  return by_time
    .sort((a, b) => {
      if (a.key === null || b.key === null) return Number(a.key === null) - Number(b.key === null);
      return (down ? -1 : 1) * compared(a.key, b.key);
    })
    .map((one) => one.row);
}

/** A second time the same column: the other way round. */
export const sortedBy = (sorting: Sorting, by: Column): Sorting => ({ by, down: sorting.by === by && !sorting.down });

/** In what a train changes, as a desk asks. */
export type ChangedThing = 'answer' | 'pantographs' | 'speed' | 'orders' | 'consent' | 'failures';

const same = (a: readonly unknown[] | undefined, b: readonly unknown[] | undefined): boolean => JSON.stringify(a) === JSON.stringify(b);

export function changedThings(change: TrainChange): ChangedThing[] {
  const { stretches } = change;
  const things: [ChangedThing, boolean][] = [
    ['answer', change.before.decision !== change.then.decision || change.forbidden.length > 0],
    ['pantographs', stretches.some(({ before, then }) => !same(before?.raised, then?.raised) || !same(before?.put_dead_in_tow, then?.put_dead_in_tow))],
    ['speed', stretches.some(({ before, then }) => before?.speed_kmh !== then?.speed_kmh)],
    ['orders', change.orders.length > 0],
    ['consent', change.consents_missing.length > 0 || change.consents_newly_used.length > 0 || change.consents_no_longer_used.length > 0],
    ['failures', change.failures.length > 0],
  ];
  return things.filter(([, is]) => is).map(([thing]) => thing);
}

/** The trains before and after one of the rows; null where there is none. */
export function neighbours(rows: DayRow[], number: string): { place: number; before: string | null; after: string | null } | null {
  const place = rows.findIndex((row) => row.number === number);
  if (place < 0) return null;
  return { place, before: rows[place - 1]?.number ?? null, after: rows[place + 1]?.number ?? null };
}
