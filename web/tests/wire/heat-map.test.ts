import { describe, expect, it } from 'vitest';
import { edgesOf, layOut, nearestKnown, permittedPieces, stairPath, valuesFrom } from '../../src/wire/heat-map';

const area = { x: 50, y: 20, width: 400, height: 300 };

describe('the map of an envelope', () => {
  it('has borders half way between distances, also where these are uneven', () => {
    expect(edgesOf([8, 20, 35, 85])).toEqual([2, 14, 27.5, 60, 110]);
  });

  it('fills its area with cells that meet', () => {
    const map = layOut([10, 20, 30, 40], [60, 80, 100], area);
    const first = map.box(0, 0);
    const last = map.box(3, 2);
    expect(first.x).toBeCloseTo(50);
    expect(first.y + first.height).toBeCloseTo(320);
    expect(last.x + last.width).toBeCloseTo(450);
    expect(last.y).toBeCloseTo(20);
    expect(map.box(1, 0).x).toBeCloseTo(first.x + first.width);
  });

  it('holds each computed value in the middle of an even cell', () => {
    const map = layOut([10, 20, 30], [60, 80, 100], area);
    const box = map.box(1, 1);
    expect(map.x(20)).toBeCloseTo(box.x + box.width / 2);
    expect(map.y(80)).toBeCloseTo(box.y + box.height / 2);
  });

  it('draws no permitted speed where the lowest fails already', () => {
    const map = layOut([10, 20, 30], [60, 80, 100], area);
    const pieces = permittedPieces(map, [0, 60, 100]);
    expect(pieces.map((piece) => piece.speed_kmh)).toEqual([60, 100]);
    expect(pieces[0]?.y).toBeCloseTo(map.y(60));
    expect(pieces[0]?.to).toBeCloseTo(pieces[1]?.from ?? -1);
  });

  it('climbs the published steps at their distances', () => {
    const map = layOut([10, 20, 30], [60, 80, 100], area);
    const path = stairPath(map, [
      { distance_m: 8, speed_kmh: 80 },
      { distance_m: 20, speed_kmh: 100 },
      { distance_m: 200, speed_kmh: 160 },
    ]);
    const at = (Math.round(map.x(20) * 10) / 10).toString();
    expect(path).toContain(`H${at}V`);
    expect(path.match(/V/g)).toHaveLength(2);
  });

  it('shows one distance alone', () => {
    const map = layOut([0], [100], area);
    expect(map.box(0, 0).width).toBeCloseTo(400);
    expect(map.box(0, 0).height).toBeCloseTo(300);
  });
});

describe('values from, to, by', () => {
  it('include the last', () => {
    expect(valuesFrom(10, 30, 10)).toEqual([10, 20, 30]);
    expect(valuesFrom(0.1, 0.3, 0.1)).toEqual([0.1, 0.2, 0.3]);
  });

  it('are none where they make no sense', () => {
    expect(valuesFrom(30, 10, 10)).toEqual([]);
    expect(valuesFrom(10, 30, 0)).toEqual([]);
    expect(valuesFrom(10, Number.NaN, 1)).toEqual([]);
    expect(valuesFrom(0, 1e9, 1)).toEqual([]);
  });

  it('guesses a cell by the nearest one that is known, and by none that is far', () => {
    const cell = (spacing: number, speed: number) => ({
      spacing,
      speed,
      passes: true,
      margin: 0.1,
      criterion: '',
      at_first_sight: true,
    });
    const cells = [0, 1, 2, 3, 4, 5].map((d) => [0, 1, 2, 3, 4, 5].map((v) => (d === 0 && (v === 0 || v === 4) ? cell(d, v) : null)));
    expect(nearestKnown(cells, 0, 4)?.speed).toBe(4);
    expect(nearestKnown(cells, 1, 3)?.speed).toBe(4);
    expect(nearestKnown(cells, 1, 1)?.speed).toBe(0);
    expect(nearestKnown(cells, 5, 0)).toBeNull();
  });
});
