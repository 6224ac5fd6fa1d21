import { describe, expect, test } from 'vitest';
import type { Plan, PlannedSection } from '../src/engine/answers';
import { changedBetween, comparable, differencesOf, planFrom } from '../src/compare/differences';

const section = (from_km: number, to_km: number, raised: string[], more: Partial<PlannedSection> = {}): PlannedSection => ({
  from_km, to_km, section: 's', lines: [], energy_supply: null, iced: false, reversed: false, lowered_for: null, answer: 'permitted',
  raised, put_dead_in_tow: [], speed_kmh: 100, speed_rule: '', speed_reason: '', permitted_speed_kmh: 100, least_distance_m: null, exposed_loads: [], findings: [], ...more,
});
const said = (now: PlannedSection[], other: PlannedSection[]): unknown[] => differencesOf(now, other).map((one) => [one.from_km, one.to_km, one.what]);

describe('two plans of one train', () => {
  test('differ where something is up, permitted or fast in one of them only, whatever their borders', () => {
    const now = [section(0, 10, ['1.1']), section(10, 30, ['1.2'])];
    const other = [section(0, 5, ['1.1']), section(5, 20, ['1.1'], { speed_kmh: 60 }), section(20, 30, ['1.2'], { answer: 'consent needed' })];
    expect(said(now, other)).toEqual([
      [5, 10, ['speed']],
      [10, 20, ['raised', 'speed']],
      [20, 30, ['answer']],
    ]);
    expect(said(now, now)).toEqual([]);
  });
  test('neighbours that differ alike are one stretch; those that differ otherwise are not', () => {
    const now = [section(0, 5, ['1.1']), section(5, 10, ['1.1'])];
    expect(said(now, [section(0, 10, ['1.2'])])).toEqual([[0, 10, ['raised']]]);
    expect(said(now, [section(0, 5, ['1.2']), section(5, 10, ['1.1', '1.2'])])).toEqual([[0, 5, ['raised']], [5, 10, ['raised']]]);
    expect(said([section(0, 5, ['1.1']), section(5, 10, [])], [section(0, 10, ['1.2'])])).toHaveLength(2);
    expect(said([section(0, 10, ['1.1']), section(10, 20, ['1.1']), section(20, 30, ['1.1'])], [section(0, 10, []), section(10, 20, ['1.1']), section(20, 30, [])])).toHaveLength(2);
  });
  test('the order in which names stand is no difference; a vehicle dead in tow is one', () => {
    expect(said([section(0, 1, ['1.1', '2.1'])], [section(0, 1, ['2.1', '1.1'])])).toEqual([]);
    expect(said([section(0, 1, ['1.1'])], [section(0, 1, ['1.1'], { put_dead_in_tow: [2] })])).toEqual([[0, 1, ['dead']]]);
    expect(changedBetween(['1.1', '2.1'], ['1.1', '2.2'])).toEqual(['2.1', '2.2']);
  });
  test('where one of them does not go, there is nothing to compare', () => {
    expect(said([section(0, 10, ['1.1'])], [section(0, 5, ['1.1'])])).toEqual([]);
  });
  test('are of one route, and their pantographs stand alike', () => {
    const plan = (route: string, at: number): Plan => ({ route: { id: route }, train: { vehicles: [{ number: 1, front_m: 0, pantographs: [{ name: '1.1', from_front_m: at }] }] } }) as never;
    expect(comparable(plan('a', 5), plan('a', 5))).toBe(true);
    expect(comparable(plan('a', 5), plan('b', 5))).toBe(false);
    expect(comparable(plan('a', 5), plan('a', 6))).toBe(false);
  });
  test('one is read as the program writes it, and nothing else is', () => {
    const written = { sections: [], instructions: [], train: { vehicles: [] }, route: { id: 'a' } };
    expect(planFrom(JSON.stringify(written))).toEqual(written);
    for (const other of ['', 'null', '[]', '{"sections": []}', JSON.stringify({ ...written, sections: 3 }), JSON.stringify({ ...written, train: {} }), JSON.stringify({ ...written, route: {} }), JSON.stringify({ ...written, instructions: 3 })]) expect(planFrom(other)).toBeNull();
  });
});
