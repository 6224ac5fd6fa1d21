import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Library } from '../src/engine/answers';
import { askAbout, exercise_sets, exercisesOf, type Exercise, type Opened } from '../src/explain/exercises';

const section = (raised: string[], rule: string, answer = 'permitted'): unknown => ({
  from_km: 0, to_km: 10, energy_supply: null, iced: false, reversed: false, lowered_for: null, answer, raised, put_dead_in_tow: [],
  findings: [{ rule, standing: 'practice', strength: 'prescribed', kept: true }],
});
/** What the engine plans, by train, route and conditions; nothing: it may not run. */
const plans: Record<string, unknown[]> = {
  'a main fair': [section(['1.2'], 'rear-alone'), section(['1.1'], 'rear-alone')],
  'b branch fair': [section(['1.1'], 'front-before-load')],
  'c main fair': [section(['1.2'], 'rear-alone')],
  'c main frost': [section(['1.1', '1.2'], 'both-on-ice')],
};
const library = {
  files: [
    ...['a', 'b', 'c'].map((name) => ({ kind: 'train', path: `trains/${name}` })),
    ...['main', 'branch'].map((name) => ({ kind: 'route', path: `routes/${name}` })),
    { kind: 'conditions', path: 'conditions/frost' },
    { kind: 'rule book', path: 'rules/own' },
  ],
} as unknown as Library;
const last = (path: string): string => path.split('/').at(-1) ?? '';
const asked: { rules: { name: string }[] }[] = [];

const source = { en: 'practice', de: 'Praxis' };
const cases = { name: 'Cases', invented: true, cases: [{ id: 'p01', of: 'P1', title: { en: 'One', de: 'Eine' }, source }, { id: 'p25', of: 'P25', title: { en: 'Too much', de: 'Zu viel' }, source }] };
const of_cases: { url: string; question: unknown }[] = [];

function engine(url: string, request: RequestInit): Response {
  if (url === '/api/practice') return Response.json(cases);
  if (url.startsWith('/api/practice/')) {
    const question = JSON.parse(String(request.body)) as { case: string };
    of_cases.push({ url, question });
    return Response.json({ plan: { sections: [section([], 'rear-alone', question.case === 'p25' ? 'no permitted configuration' : 'permitted')] } });
  }
  if (url.startsWith('/api/library/file')) {
    const path = new URL(url, 'http://here').searchParams.get('path') ?? '';
    return Response.json({ path, text: last(path), sha256: '' });
  }
  const question = JSON.parse(String(request.body)) as { train: { text: string }; route: { text: string }; conditions: { text: string } | null; rules: { name: string }[] };
  asked.push(question);
  const sections = plans[`${question.train.text} ${question.route.text} ${question.conditions?.text ?? 'fair'}`];
  return Response.json({ plan: { answer: sections ? 'permitted' : 'no permitted configuration', sections: sections ?? [] }, train_text: question.train.text });
}

async function found(set: Parameters<typeof exercisesOf>[0], open: Opened | null, of: Library | null): Promise<Exercise[]> {
  vi.stubGlobal('fetch', async (url: string, request: RequestInit) => Promise.resolve(engine(url, request)));
  const list: Exercise[] = [];
  for await (const one of exercisesOf(set, of, open, 'en')) list.push(one);
  return list;
}
const all = async (set: Parameters<typeof exercisesOf>[0], open: Opened | null = null): Promise<string[]> =>
  (await found(set, open, library)).map(({ question, section }) => ('case' in question ? question.case : `${question.train.text} ${question.route?.text ?? ''} ${question.conditions?.text ?? 'fair'} ${section}`));
afterEach(() => {
  vi.unstubAllGlobals();
  asked.length = 0;
  of_cases.length = 0;
});

describe('sets of exercises', () => {
  test('begin with the cases of working practice, in their order, without a library or an open train', async () => {
    expect(exercise_sets[0]).toBe('cases');
    const list = await found('cases', null, null);
    expect(list.map((one) => [one.of?.of, one.of?.title.de, one.of?.source.en])).toEqual([['P1', 'Eine', 'practice'], ['P25', 'Zu viel', 'practice']]);
    expect(asked).toEqual([]);
    expect(of_cases.map((one) => one.question)).toEqual([{ case: 'p01', language: 'en' }, { case: 'p25', language: 'en' }]);
  });
  test('ask the engine about a case by its id, about a train by its texts', async () => {
    const [first] = await found('cases', null, null);
    await askAbout(first as Exercise, ['1.2'], 10);
    expect(of_cases.at(-1)).toEqual({ url: '/api/practice/why', question: { case: 'p01', language: 'en', asked: ['1.2'], at_km: 10 } });
    const [train] = await found('library', null, library);
    asked.length = 0;
    await askAbout(train as Exercise, [], 5);
    expect(asked).toMatchObject([{ train: { text: 'a' }, asked: [], at_km: 5 }]);
  });
  test('of the library: each train at its departure, on the first route where it may run', async () => {
    expect(await all('library')).toEqual(['a main fair 0', 'b branch fair 0', 'c main fair 0']);
    // Where nothing is open, the library's first rule book counts.
    expect(asked[0]?.rules.map((one) => one.name)).toEqual(['rules/own']);
  });
  test('of practice: each rule once, in other weather too', async () => {
    expect(await all('practice')).toEqual(['a main fair 0', 'b branch fair 0', 'c main frost 0']);
  });
  test('of the open train: its own states, and nothing is asked', async () => {
    const open = { question: { train: { text: 'a' }, route: { text: 'main' }, conditions: null }, answer: { plan: { sections: plans['a main fair'] } } } as unknown as Opened;
    expect(await all('route', open)).toEqual(['a main fair 0', 'a main fair 1']);
    expect(asked).toEqual([]);
    expect(await all('route')).toEqual([]);
  });
  test('are tried on the open route first, by the open rule books', async () => {
    const open = { question: { train: { text: 'b' }, route: { name: 'routes/branch', text: 'branch' }, conditions: null, rules: [{ name: 'rules/other', text: '' }] }, answer: { plan: { sections: [] } } } as unknown as Opened;
    await all('library', open);
    const first = asked[0] as unknown as { route: { text: string }; rules: { name: string }[] };
    expect([first.route.text, first.rules[0]?.name]).toEqual(['branch', 'rules/other']);
  });
});
