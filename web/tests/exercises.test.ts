import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Library } from '../src/engine/answers';
import { exercisesOf, type Exercise, type Opened } from '../src/explain/exercises';

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

function engine(url: string, request: RequestInit): Response {
  if (url.startsWith('/api/library/file')) {
    const path = new URL(url, 'http://here').searchParams.get('path') ?? '';
    return Response.json({ path, text: last(path), sha256: '' });
  }
  const question = JSON.parse(String(request.body)) as { train: { text: string }; route: { text: string }; conditions: { text: string } | null; rules: { name: string }[] };
  asked.push(question);
  const sections = plans[`${question.train.text} ${question.route.text} ${question.conditions?.text ?? 'fair'}`];
  return Response.json({ plan: { answer: sections ? 'permitted' : 'no permitted configuration', sections: sections ?? [] }, train_text: question.train.text });
}

async function all(set: Parameters<typeof exercisesOf>[0], open: Opened | null = null): Promise<string[]> {
  vi.stubGlobal('fetch', async (url: string, request: RequestInit) => Promise.resolve(engine(url, request)));
  const found: Exercise[] = [];
  for await (const one of exercisesOf(set, library, open, 'en')) found.push(one);
  return found.map((one) => `${one.question.train.text} ${one.question.route?.text ?? ''} ${one.question.conditions?.text ?? 'fair'} ${one.section}`);
}
afterEach(() => {
  vi.unstubAllGlobals();
  asked.length = 0;
});

describe('sets of exercises', () => {
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
