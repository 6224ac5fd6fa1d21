import { expect, test } from 'vitest';
import type { Finding } from '../src/engine/answers';
import { becauseIn } from '../src/why/because';

const finding = (rule: string, text: string): Finding => ({
  rule,
  text,
  strength: 'prescribed',
  standing: 'practice',
  kept: true,
  source: 'common practice',
  because: `why ${rule}`,
});

test('why there is a rule stands once in a list, with the first thing that the rule says', () => {
  const list = [finding('rear-alone', 'one'), finding('ice', 'two'), finding('rear-alone', 'three')];
  expect(list.map((one) => becauseIn(list, one))).toEqual(['why rear-alone', 'why ice', '']);
});
