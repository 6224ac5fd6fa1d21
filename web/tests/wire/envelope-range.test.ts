import { describe, expect, test } from 'vitest';
import type { Case } from '../../src/wire/case';
import { ownPoint, rangesAround } from '../../src/wire/envelope-range';
import { valuesFrom } from '../../src/wire/heat-map';

const chosen = (distances: number[], speed_kmh = 90): Case => ({
  line: 'l', system: '', speed_kmh, temperature_c: null, ice_kg_per_m: null,
  pantographs: distances.map((distance_m) => ({ model: 'm', knuckle: 'leading', distance_m, name: '' })),
});

describe('the train’s own point in the envelope', () => {
  test('is the closest two raised, at the speed of the section', () => {
    expect(ownPoint(chosen([0, 30, 19.4]))).toEqual({ spacing_m: 19.4, speed_kmh: 90 });
    expect(ownPoint(chosen([0]))).toBeNull();
    expect(ownPoint(chosen([0, 30], 0))).toBeNull();
    expect(ownPoint(null)).toBeNull();
  });
  test('is one of the values, with others on either side, all above nothing', () => {
    for (const own of [{ spacing_m: 19.4, speed_kmh: 90 }, { spacing_m: 3, speed_kmh: 15 }, { spacing_m: 416.8, speed_kmh: 140 }, { spacing_m: 85, speed_kmh: 122.5 }]) {
      const { spacings, speeds } = rangesAround(own, 160);
      for (const [range, point] of [[spacings, own.spacing_m], [speeds, own.speed_kmh]] as const) {
        const values = valuesFrom(range.from, range.to, range.step);
        expect(values.some((one) => Math.abs(one - point) < 0.051)).toBe(true);
        expect(values.at(-1)).toBeGreaterThan(point);
        expect(values[0]).toBeGreaterThan(0);
      }
    }
    expect(rangesAround({ spacing_m: 85, speed_kmh: 122.5 }, 160).spacings.from).toBe(45);
  });
  test('is left out where there is none', () => {
    expect(rangesAround(null, 140).speeds).toEqual({ from: 40, to: 140, step: 10 });
  });
});
