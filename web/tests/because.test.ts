import { expect, test } from 'vitest';
import type { Finding } from '../src/engine/answers';
import { becauseIn, labelOf } from '../src/why/because';

const finding = (rule: string, text: string): Finding => ({
  rule,
  text,
  strength: 'prescribed',
  standing: 'practice',
  kept: true,
  source: 'common practice',
  because: `why ${rule}`,
  values: [],
});

test('why there is a rule stands once in a list, with the first thing that the rule says', () => {
  const list = [finding('rear-alone', 'one'), finding('ice', 'two'), finding('rear-alone', 'three')];
  expect(list.map((one) => becauseIn(list, one))).toEqual(['why rear-alone', 'why ice', '']);
});

test('what is prescribed is said to be so, or not; other strengths stand for themselves', () => {
  expect(labelOf({ strength: 'prescribed', kept: true })).toBe('as prescribed');
  expect(labelOf({ strength: 'prescribed', kept: false })).toBe('not as prescribed');
  expect(labelOf({ strength: 'prescribed', kept: null })).toBe('prescribed');
  expect(labelOf({ strength: 'speed limit', kept: true })).toBe('speed limit');
});
