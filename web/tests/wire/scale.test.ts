import { describe, expect, it } from 'vitest';
import { interpolate, linearScale, lowerBound, roundStep, ticks } from '../../src/wire/scale';

describe('a linear scale', () => {
  it('takes the ends of its domain to the ends of its range, and back', () => {
    const scale = linearScale([300, 1200], [40, 940]);
    expect(scale(300)).toBe(40);
    expect(scale(1200)).toBe(940);
    expect(scale.invert(scale(512.5))).toBeCloseTo(512.5, 9);
  });

  it('holds a domain of no width to the middle', () => {
    expect(linearScale([5, 5], [0, 100])(5)).toBe(50);
  });
});

describe('ticks', () => {
  it('are round and include round ends', () => {
    expect(ticks(0, 100, 5)).toEqual([0, 20, 40, 60, 80, 100]);
    expect(ticks(5, 95, 9)).toEqual([10, 20, 30, 40, 50, 60, 70, 80, 90]);
  });

  it('do not drift by sums of fractions', () => {
    expect(ticks(0, 1, 10)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]);
  });

  it('take steps of 1, 2 or 5 times a power of ten', () => {
    for (const width of [0.3, 7, 42, 950, 12345]) {
      const step = roundStep(width, 6);
      expect([1, 2, 5]).toContain(Math.round(step / 10 ** Math.floor(Math.log10(step) + 1e-9)));
    }
  });
});

describe('a value between two known ones', () => {
  it('lies on the straight line', () => {
    expect(interpolate([0, 10, 20], [100, 200, 0], 15)).toBe(100);
  });

  it('is the last known one beyond either end', () => {
    expect(interpolate([0, 10], [100, 200], -5)).toBe(100);
    expect(interpolate([0, 10], [100, 200], 50)).toBe(200);
  });

  it('is found by halving', () => {
    expect(lowerBound([1, 3, 5], 3)).toBe(1);
    expect(lowerBound([1, 3, 5], 6)).toBe(3);
  });
});
