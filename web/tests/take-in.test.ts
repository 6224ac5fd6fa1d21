import { describe, expect, it } from 'vitest';
import type { TakenIn } from '../src/engine/answers';
import { cabsIn, differingLines, TakeInWork } from '../src/files/take-in.svelte';

describe('cabs of vehicles', () => {
  it('are numbers of vehicles, or places from the front, with 1 or 2', () => {
    expect(cabsIn('919900410070=1, 2=2')).toEqual([{ vehicle: '919900410070', cab: 1 }, { vehicle: '2', cab: 2 }]);
    expect(cabsIn('')).toEqual([]);
  });
  it('are told where they are none', () => {
    expect(cabsIn('1=1 2=3')).toBe('2=3');
    expect(cabsIn('front=1')).toBe('front=1');
  });
});

describe('lines that differ', () => {
  const before = '# Made at 1\n# As made: aa\nsha256 = "a"\nspeed = 160\nid = "a"';
  const after = '# Made at 2\n# As made: bb\nsha256 = "b"\nspeed = 120\nid = "a"';
  it('of a file that is made are those of its values', () => {
    expect(differingLines(before, after, true)).toEqual({ out: ['speed = 160'], into: ['speed = 120'] });
  });
  it('of a source whose day alone is another are none', () => {
    expect(differingLines('imported = 2026-11-30\ndate = 2026-11-01', 'imported = 2026-12-01\ndate = 2026-11-02', true)).toEqual({ out: [], into: [] });
  });
  it('of a file of somebody are all', () => {
    expect(differingLines(before, after, false).out).toHaveLength(4);
  });
});

describe('several trains of one message', () => {
  const train = (journey_section: number, text: string | null) => ({
    journey_section, from: 'A', to: 'B', path: `trains/m-${journey_section}.toml`, text, there: null, notes: [], mistakes: [],
  });
  const message: TakenIn = {
    made_of: 'message', kind: 'train', path: 'trains/m-1.toml', text: 'one', there: null, notes: [], told: '', asks: [],
    trains: [train(1, 'one'), train(2, null), train(3, 'three')],
  };
  const paths = (work: TakeInWork): string[] => work.chosen.map((one) => one.path);

  it('are all taken but those that cannot be made and those that are left', () => {
    const work = new TakeInWork();
    work.answer = message;
    expect(paths(work)).toEqual(['trains/m-1.toml', 'trains/m-3.toml']);
    work.choose(1, false);
    expect(paths(work)).toEqual(['trains/m-3.toml']);
    work.choose(3, false);
    expect(paths(work)).toEqual([]);
    work.choose(1, true);
    expect(paths(work)).toEqual(['trains/m-1.toml']);
    work.leave();
    work.answer = message;
    expect(paths(work)).toHaveLength(2);
  });
  it('are not asked of another file', () => {
    const work = new TakeInWork();
    work.answer = { ...message, trains: [] };
    expect(paths(work)).toEqual(['trains/m-1.toml']);
  });
});
