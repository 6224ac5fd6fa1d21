import { describe, expect, test } from 'vitest';
import type { Finding, PlannedSection } from '../src/engine/answers';
import { askedAt, missedIn, placesToAsk, rightOf, rulesOfPractice, verdictOf, type Result } from '../src/explain/practice';
import { signsOf, signsWidth } from '../src/strip/train-sign';

const section = (raised: string[], more: Partial<PlannedSection> = {}): PlannedSection => ({
  from_km: 0, to_km: 10, section: 's', lines: [], energy_supply: 'AC 15 kV 16.7 Hz', iced: false, reversed: false, lowered_for: null, answer: 'permitted',
  raised, put_dead_in_tow: [], speed_kmh: 100, speed_rule: '', speed_reason: '', permitted_speed_kmh: 100, least_distance_m: null, exposed_loads: [], findings: [], ...more,
});
const finding = (rule: string, more: Partial<Finding> = {}): Finding => ({ rule, strength: 'prescribed', standing: 'practice', kept: true, text: '', source: '', because: '', values: [], ...more });

describe('exercises', () => {
  test('ask about each state of the train once, and not where nothing is permitted', () => {
    const sections = [
      section(['1.1']),
      section(['1.1'], { speed_kmh: 60 }),
      section([], { lowered_for: 'a separation' }),
      section(['1.2']),
      section([], { answer: 'no permitted configuration' }),
      section([], { lowered_for: 'another', energy_supply: null }),
      section(['1.1'], { iced: true }),
      section(['1.1'], { reversed: true }),
      section(['1.1'], { energy_supply: 'DC 3 kV' }),
      section(['1.1'], { put_dead_in_tow: [2] }),
    ];
    expect(placesToAsk(sections)).toEqual([0, 2, 3, 6, 7, 8, 9]);
  });
  test('ask in the middle of a section', () => {
    expect(askedAt(section([], { from_km: 4, to_km: 10 }))).toBe(7);
  });
  test('cases are the rules of practice that are kept', () => {
    const findings = [
      finding('rear-alone'),
      finding('rear-alone'),
      finding('front-before-load', { kept: false }),
      finding('vehicle-speed', { standing: 'published' }),
      finding('put-dead', { strength: 'note' }),
    ];
    expect(rulesOfPractice(section(['1.2'], { findings }))).toEqual(['rear-alone']);
  });
  test('say what was missed, and what was too many', () => {
    expect(missedIn(['1.1', '2.1'], ['1.1', '2.2'])).toEqual({ to_raise: ['2.2'], to_lower: ['2.1'] });
    expect(missedIn(['1.1'], ['1.1'])).toEqual({ to_raise: [], to_lower: [] });
  });
  test('are judged by the engine alone', () => {
    expect(verdictOf({ is_planned: true, answer: 'permitted', asked: ['1.1'], planned: ['1.1'] })).toBe('as planned');
    expect(verdictOf({ is_planned: false, answer: 'consent needed', asked: ['1.1'], planned: ['1.2'] })).toBe('consent needed');
    const forbidden = { is_planned: false, answer: 'no permitted configuration' } as const;
    expect(verdictOf({ ...forbidden, asked: [], planned: ['1.1'] })).toBe('no permitted configuration');
    expect(verdictOf({ ...forbidden, asked: ['1.1'], planned: [] })).toBe('no permitted configuration');
  });
  test('to raise nothing is right where nothing may be raised', () => {
    expect(verdictOf({ is_planned: false, answer: 'no permitted configuration', asked: [], planned: [] })).toBe('as planned');
    const results = [{ verdict: 'as planned' }, { verdict: 'permitted' }] as Result[];
    expect(rightOf(results)).toBe(1);
  });
});

describe('the train as a sign', () => {
  const vehicle = { number: 1, front_m: 0, length_m: 20, dead_in_tow: false, pantographs: [{ name: '1.1', from_front_m: 5, defective: true, frame: 'single-arm', knuckle: 'leading' }] };
  const plan = { train: { vehicles: [vehicle], loads: [{ name: 'petrol', nature: 'dangerous', front_m: 20 }] } } as never;
  test('has its front at the left, also after a reversal', () => {
    expect(signsOf(plan, [], [], false).map((one) => one.number)).toEqual([1, null]);
    const turned = signsOf(plan, ['1.1'], [1], true);
    expect(turned.map((one) => one.number)).toEqual([null, 1]);
    expect(turned[0]).toMatchObject({ nature: 'dangerous', x: 0 });
    expect(turned[1]).toMatchObject({ dead: true, x: 28 });
    expect(turned[1]?.pantographs[0]).toMatchObject({ up: true, defective: true, leading: false, x: 28 + 3 + 24 * 0.75 });
    expect(signsWidth(plan)).toBe(60);
  });
});
