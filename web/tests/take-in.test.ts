import { describe, expect, it } from 'vitest';
import { cabsIn, differingLines } from '../src/files/take-in.svelte';

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
  it('of a file of somebody are all', () => {
    expect(differingLines(before, after, false).out).toHaveLength(4);
  });
});
