import { describe, expect, it } from 'vitest';
import { commonRange, lossStretches, spreadLabels } from '../../src/wire/force-chart';

describe('the chart of contact force', () => {
  it('marks each stretch without contact from end to end', () => {
    const trace = {
      at_m: [0, 1, 2, 3, 4, 5],
      filtered_force_n: [70, 20, 10, 30, 60, 20],
      contact_force_n: [70, 0, 0, 40, 60, 0],
    };
    expect(lossStretches(trace)).toEqual([
      [1, 2],
      [5, 5],
    ]);
  });

  it('sets labels apart without changing their order', () => {
    const spread = spreadLabels([100, 102, 101, 160], 14);
    expect(spread[0]!).toBeLessThan(spread[2]!);
    expect(spread[2]!).toBeLessThan(spread[1]!);
    expect(spread[1]! - spread[2]!).toBeGreaterThan(13.9);
    expect(spread[3]).toBe(160);
  });

  it('has room for the statistical limits beside the course', () => {
    const trace = { at_m: [0, 1], filtered_force_n: [40, 110], contact_force_n: [-5, 190] };
    const figures = { statistical_min_n: -12, statistical_max_n: 150 };
    expect(commonRange([trace], [figures as never], false)).toEqual([-20, 160]);
    expect(commonRange([trace], [figures as never], true)).toEqual([-20, 200]);
  });
});
