import { describe, expect, it } from 'vitest';
import { greatestLift, headPlaces, momentAt, viewAround, wirePoints } from '../../src/wire/animation';
import type { WireShapes } from '../../src/wire/results';

const shapes: WireShapes = {
  times_s: [10, 10.5, 11],
  wires: [
    {
      name: 'contact wire',
      at_m: [0, 10, 20, 30],
      rest_m: [0, -0.02, -0.02, 0],
      lift_mm: [
        [0, 0, 0, 0],
        [0, 40, 20, 0],
        [0, 0, 60, 10],
      ],
    },
  ],
  pantographs_at_m: [
    [8, 2],
    [12, 6],
    [16, 10],
  ],
  head_height_m: [
    [0.01, 0],
    [0.02, 0.01],
    [0.03, 0.02],
  ],
};

describe('the wire at a moment', () => {
  it('lies between the two kept times', () => {
    expect(momentAt(shapes.times_s, 10.25)).toEqual({ before: 0, after: 1, share: 0.5 });
    const points = wirePoints(shapes.wires[0]!, momentAt(shapes.times_s, 10.25), { from_m: 0, to_m: 30 });
    expect(points[1]).toEqual({ at_m: 10, rest_m: -0.02, lift_m: 0.02 });
  });

  it('stands still before the first and after the last', () => {
    expect(momentAt(shapes.times_s, 5)).toEqual({ before: 0, after: 0, share: 0 });
    expect(momentAt(shapes.times_s, 50).share).toBe(1);
  });

  it('goes one point beyond either end of the view, so that it is drawn to its border', () => {
    const points = wirePoints(shapes.wires[0]!, momentAt(shapes.times_s, 10), { from_m: 12, to_m: 18 });
    expect(points.map((point) => point.at_m)).toEqual([10, 20]);
  });

  it('has its heads at their height above the wire at rest', () => {
    const heads = headPlaces(shapes, momentAt(shapes.times_s, 10.5));
    expect(heads[0]?.at_m).toBe(12);
    expect(heads[0]?.rest_m).toBeCloseTo(-0.02, 9);
    expect(heads[0]?.lift_m).toBeCloseTo(0.04, 9);
  });

  it('tells its greatest lift', () => {
    expect(greatestLift(shapes)).toBeCloseTo(0.06, 9);
  });
});

describe('the view', () => {
  const line = { from_m: 0, to_m: 1500 };
  it('keeps the pantographs in it, the front one ahead of the middle', () => {
    const view = viewAround([700, 665], 160, line);
    expect(view.to_m - view.from_m).toBeCloseTo(160);
    expect(view.from_m).toBeLessThan(665);
    expect((700 - view.from_m) / 160).toBeCloseTo(0.75);
  });
  it('widens where they stand farther apart', () => {
    const view = viewAround([900, 600], 160, line);
    expect(view.from_m).toBeLessThan(600);
    expect(view.to_m).toBeGreaterThan(900);
  });
  it('stays on the line', () => {
    expect(viewAround([5], 160, line).from_m).toBe(0);
    expect(viewAround([1499], 160, line).to_m).toBeCloseTo(1500);
  });
});
