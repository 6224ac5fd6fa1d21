import { expect, test } from 'vitest';
import type { PlanAnswer } from '../src/engine/answers';
import { headlineOf, whereToLook } from '../src/head/headline';
import { wordsOf } from '../src/words/words';

type Part = Pick<PlanAnswer, 'plan' | 'consents_used'>;
const section = (from_km: number, answer: string, strengths: string[]) => ({ from_km, answer, findings: strengths.map((strength) => ({ strength })) });
const part = (last_resort_accepted: boolean, consents: string[], sections: object[] = []): Part =>
  ({ plan: { last_resort_accepted, sections }, consents_used: consents.map((reference) => ({ reference, given_by: 'CI' })) }) as unknown as Part;
const en = wordsOf('en');

test('the headline says what a yes was bought with', () => {
  expect(headlineOf('permitted', [part(false, [])], en)).toBe('permitted');
  expect(headlineOf('permitted', [part(true, [])], en)).toBe('permitted, last resort accepted');
  expect(headlineOf('permitted', [part(false, ['C-1', 'C-2'])], en)).toBe('permitted, with consent C-1 and C-2');
  expect(headlineOf('consent needed', [part(true, ['C-1'])], wordsOf('de'))).toBe('Zustimmung nötig, mit Zustimmung C-1, letzter Ausweg in Kauf genommen');
  expect(headlineOf('no permitted configuration', [part(true, ['C-1'])], en)).toBe('no permitted configuration');
});

test('of a run, whichever part it was', () => {
  expect(headlineOf('permitted', [part(false, ['C-1']), part(true, ['C-1'])], en)).toBe('permitted, with consent C-1, last resort accepted');
});

test('the way is shown to the first place that is no plain yes', () => {
  const plain = part(false, [], [section(0, 'permitted', ['note'])]);
  const resort = part(true, [], [section(0, 'permitted', []), section(7, 'permitted', ['last resort']), section(9, 'consent needed', [])]);
  expect(whereToLook('permitted', [plain])).toBeNull();
  expect(whereToLook('permitted', [plain, resort])).toEqual({ part: 2, km: 7 });
  expect(whereToLook('consent needed', [plain, resort])).toEqual({ part: 2, km: 9 });
});
