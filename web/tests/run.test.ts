import { describe, expect, test } from 'vitest';
import { addressFrom, fragmentOf } from '../src/day/address';
import type { PartQuestion, Plan, PlanAnswer, PlanAnswerWord, RunAnswer, TrainModel } from '../src/engine/answers';
import { askedFor } from '../src/engine/calls';
import { changeWords } from '../src/run/change-words';
import { changesBetween, comesOnTheWay, isRun, lineNaming, openPart, partHeads, partWithin, worstPart } from '../src/run/parts';
import { firstState, keptFrom, keptOf, reduce, textAt, type PageEvent, type State } from '../src/state/state';
import { wordsOf } from '../src/words/words';

type Item = { number: number; id: string; leading_cab?: 1 | 2; dead_in_tow?: boolean } | string;

/** A train of vehicles and loads, 20 m each, front first. */
const plan = (items: Item[], answer: PlanAnswerWord = 'permitted', reversed = false): Plan => {
  const placed = items.map((item, place) => ({ item, front_m: 20 * place }));
  return {
    answer,
    last_resort_accepted: false,
    sections: [{ reversed }],
    train: {
      vehicles: placed.flatMap(({ item, front_m }) => (typeof item === 'string' ? [] : [{ leading_cab: 1, dead_in_tow: false, ...item, front_m }])),
      loads: placed.flatMap(({ item, front_m }) => (typeof item === 'string' ? [{ name: item, front_m }] : [])),
    },
  } as unknown as Plan;
};
const k41 = { number: 1, id: 'K41 007' };
const m62 = { number: 2, id: 'M62 104' };
const run = (plans: Plan[], answer: PlanAnswerWord, places: string[]): RunAnswer =>
  ({
    run: { id: 'r', name: 'Run' },
    answer,
    running_time_s: 100,
    train: { name: 'the train' },
    train_text: 'kind = "train"',
    parts: plans.map((one, i) => ({ from: places[i], to: places[i + 1], plan: one, route: { from_km: 10 * i, to_km: 10 * i + 10 }, pictures: [], section_pictures: [], separations: [] })),
  }) as unknown as RunAnswer;

describe('what happens between two parts', () => {
  const cases: [string, Item[], Item[], string][] = [
    ['another locomotive', [k41, 'wagons'], [m62, 'wagons'], 'K41 007 leaves, M62 104 comes'],
    ['a banker leaves', [k41, 'wagons', m62], [k41, 'wagons'], 'M62 104 leaves'],
    ['one comes in front', [k41, 'wagons'], [m62, k41, 'wagons'], 'M62 104 comes'],
    ['the locomotive runs round', [k41, 'wagons'], ['wagons', k41], 'K41 007 runs round the train'],
    ['one runs round, another stays', [k41, 'wagons', m62], ['wagons', m62, k41], 'K41 007 runs round the train'],
    ['one leaves, the other runs round', [k41, 'wagons', m62], [m62, 'wagons'], 'K41 007 leaves, M62 104 runs round the train'],
    ['it is turned where it stands', [k41, 'wagons'], [{ ...k41, leading_cab: 2 }, 'wagons'], 'K41 007 is turned'],
    ['one goes on dead, one works', [k41, { ...m62, dead_in_tow: true }], [{ ...k41, dead_in_tow: true }, m62], 'K41 007 goes on dead in tow, M62 104 goes on working'],
    ['wagons stay behind', [k41, 'ore', 'ore', 'coal'], [k41, 'ore', 'coal'], 'ore leaves'],
    ['two leave', [k41, m62, 'wagons'], [{ number: 3, id: 'M58 1' }, 'wagons'], 'K41 007 and M62 104 leave, M58 1 comes'],
    ['only how fast it may run', [k41, 'wagons'], [k41, 'wagons'], 'the train leaves another way'],
  ];
  test.each(cases)('%s', (_, before, then, said) => {
    expect(changeWords(changesBetween(plan(before), plan(then)), wordsOf('en'))).toBe(said);
  });
  test('a train may turn back', () => {
    const back = plan(['wagons', k41], 'permitted', true);
    expect(changeWords(changesBetween(plan([k41, 'wagons']), back), wordsOf('en'))).toBe('K41 007 runs round the train, the train leaves in the other direction');
    expect(changesBetween(back, back)).toEqual([]);
  });
  test('a vehicle that another takes the place of has not moved', () => {
    expect(changesBetween(plan([k41, m62, 'wagons']), plan([m62, 'wagons'])).map((one) => one.what)).toEqual(['leaves']);
  });
  test('it is said in German too', () => {
    expect(changeWords(changesBetween(plan([k41, 'wagons']), plan([m62, 'wagons'])), wordsOf('de'))).toBe('K41 007 geht ab, M62 104 kommt dazu');
  });
});

describe('the parts of a run', () => {
  const two = run([plan([k41, 'wagons']), plan([m62, 'wagons'], 'consent needed')], 'consent needed', ['Harl', 'Tarnholt', 'Sollin']);
  test('each says where it goes and what happens where it ends', () => {
    expect(partHeads(two)).toMatchObject([
      { number: 1, from: 'Harl', to: 'Tarnholt', from_km: 0, to_km: 10, answer: 'permitted', changes: [{ what: 'leaves' }, { what: 'comes' }] },
      { number: 2, from: 'Tarnholt', to: 'Sollin', answer: 'consent needed', changes: [] },
    ]);
  });
  test('the worst is the first that has the answer of the train; of a permitted one there is none', () => {
    expect(worstPart(two)).toBe(2);
    const bad = plan([m62], 'no permitted configuration');
    expect(worstPart(run([bad, bad], 'no permitted configuration', []))).toBe(1);
    expect(worstPart(run([plan([k41])], 'permitted', []))).toBeNull();
  });
  test('one is shown, with the train as its file says; there is always one', () => {
    expect(openPart(two, 2).plan.answer).toBe('consent needed');
    expect(openPart(two, 2).train_text).toBe('kind = "train"');
    expect(openPart(two, 9)).toEqual(openPart(two, 2));
    expect([0, 1, 2, 3].map((part) => partWithin(two, part))).toEqual([1, 1, 2, 2]);
  });
  test('a plan on a route has no parts', () => {
    const one = { plan: plan([k41]) } as unknown as PlanAnswer;
    expect(isRun(one)).toBe(false);
    expect(openPart(one, 3)).toBe(one);
    expect(partWithin(one, 3)).toBe(1);
  });
  test('a vehicle with a number beyond those of the train file comes on the way', () => {
    const train = { consist: [{ vehicle: 'k41' }, { load: 'wagons' }] } as unknown as TrainModel;
    expect([1, 2].map((number) => comesOnTheWay(train, number))).toEqual([false, true]);
  });
  test('where the run attaches a vehicle is found in its text', () => {
    const text = 'name = "M62 104"\n[[stop.change.consist]]\nvehicle = "m62"\nid = "M62 104"\n';
    expect(lineNaming(text, 'M62 104')).toBe(4);
    expect(lineNaming(text, 'M62 10')).toBeNull();
  });
  test('a card is of all parts, whichever is open; a report, and a card of one, of that part', () => {
    const question = { part: 2 } as unknown as PartQuestion;
    expect((['card', 'part card', 'report', 'report/html'] as const).map((what) => askedFor(what, question).part)).toEqual([null, 2, 2, 2]);
  });
});

describe('the page with a run', () => {
  const apply = (state: State, ...events: PageEvent[]): State => events.reduce(reduce, state);
  const train = { name: 'trains/t.toml', text: 'kind = "train"', model: null };
  const route = { name: 'routes/r.toml', text: 'kind = "route"' };
  const text = { name: 'runs/r.toml', text: 'kind = "run"' };
  const opened = apply(firstState('en', 'system'), { do: 'choose route', route }, { do: 'choose run', run: text, train });

  test('has a run or a route, not both', () => {
    expect(opened.document).toMatchObject({ run: text, route: null, train });
    expect(apply(opened, { do: 'choose route', route }).document).toMatchObject({ run: null, route });
    expect(apply(opened, { do: 'choose train', train }).document).toMatchObject({ run: null, route: null });
    expect(apply(opened, { do: 'undo' }).document).toMatchObject({ run: null, route });
  });
  test('another part is another place to look at; what was asked and picked belongs to the part before', () => {
    const looked = apply(opened, { do: 'pick', picked: 0 }, { do: 'ask', asked: ['1.1'] }, { do: 'fail', failed: '1.1' }, { do: 'open part', run_part: 2, at_km: 34.5 });
    expect(looked.view).toMatchObject({ run_part: 2, at_km: 34.5, picked: null, asked: null, failed: null });
    expect(looked.past).toEqual(opened.past);
    expect(apply(looked, { do: 'choose run', run: text, train }).view.run_part).toBe(1);
    expect(apply(looked, { do: 'open', document: opened.document }).view.run_part).toBe(1);
  });
  test('an edit of the train or of the text of the run stays on the part', () => {
    const later = apply(opened, { do: 'open part', run_part: 2, at_km: 40 });
    const edited = apply(later, { do: 'edit text', place: { of: 'run' }, text: 'other' });
    expect(textAt(edited.document, { of: 'run' })).toEqual({ ...text, text: 'other' });
    expect(edited.view.run_part).toBe(2);
  });
  test('a draft keeps the run and the part', () => {
    const kept = keptFrom(JSON.parse(JSON.stringify(keptOf(apply(opened, { do: 'open part', run_part: 3, at_km: 40 })))));
    expect(kept?.document.run).toEqual(text);
    expect(kept?.view.run_part).toBe(3);
    expect(keptFrom({ document: { run: 5 }, view: { run_part: -1.5 } })).toMatchObject({ document: { run: null }, view: { run_part: 1 } });
  });
  test('the address names the part, but for the first', () => {
    const address = { day: 'days/d.toml', train: '7', part: 2, what_if: null };
    expect(fragmentOf(address)).toBe('#day=days%2Fd.toml&train=7&part=2');
    expect(addressFrom(fragmentOf(address))).toEqual(address);
    expect(fragmentOf({ ...address, part: 1 })).toBe('#day=days%2Fd.toml&train=7');
    expect(fragmentOf({ ...address, train: null })).toBe('#day=days%2Fd.toml');
    expect(addressFrom('#day=a.toml&train=7&part=0')?.part).toBe(1);
    expect(addressFrom('#day=a.toml&train=7&part=x')?.part).toBe(1);
  });
});
