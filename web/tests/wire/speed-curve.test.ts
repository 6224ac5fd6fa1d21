import { describe, expect, it } from 'vitest';
import type { Case } from '../../src/wire/case';
import type { SpeedCurvePoint } from '../../src/wire/results';
import {
  curveKey,
  greatestDistance,
  knownAt,
  placesOf,
  speedCurveRequest,
  unknownNear,
  withPoint,
} from '../../src/wire/speed-curve';

const pantograph = (distance_m: number) => ({ model: 'p.toml', knuckle: 'leading' as const, distance_m, name: '' });
const three: Case = {
  line: 'l.toml',
  system: '',
  speed_kmh: 120,
  pantographs: [pantograph(0), pantograph(20), pantograph(35.5)],
  temperature_c: -5,
  ice_kg_per_m: null,
};

function point(distance_m: number, speed_kmh: number, at_first_sight = true): SpeedCurvePoint {
  return {
    distance_m,
    speed_kmh,
    fails_at_kmh: null,
    criterion: '',
    pantograph: 2,
    text: '',
    warnings: [],
    at_first_sight,
  };
}

const all = (...points: SpeedCurvePoint[]) => new Map(points.map((one) => [one.distance_m, one]));

describe('a pantograph that is drawn along', () => {
  it('takes those behind it with it', () => {
    expect(placesOf(three, 1, 50)).toEqual([0, 50, 85.5]);
    expect(placesOf(three, 2, 50)).toEqual([0, 20, 70]);
  });

  it('is asked about where it stands, counted from the front from 1', () => {
    const request = speedCurveRequest(three, 1, 50, [45], 140);
    expect(request.drawn_pantograph).toBe(2);
    expect(request.pantographs.map((one) => one.behind_first_m)).toEqual([0, 50, 85.5]);
    expect(request.distances_m).toEqual([45]);
    expect(request.system).toBeNull();
    expect(request.temperature_c).toBe(-5);
  });

  it('has one curve whatever its own distance, and another for anything else', () => {
    const apart: Case = { ...three, pantographs: [pantograph(0), pantograph(44), pantograph(35.5)] };
    expect(curveKey(apart, 1, 140)).toBe(curveKey(three, 1, 140));
    expect(curveKey(apart, 2, 140)).not.toBe(curveKey(three, 2, 140));
    expect(curveKey(three, 1, 160)).not.toBe(curveKey(three, 1, 140));
    expect(curveKey({ ...three, ice_kg_per_m: 1 }, 1, 140)).not.toBe(curveKey(three, 1, 140));
  });

  it('finds round distances that are not known, the nearest first', () => {
    expect(unknownNear(all(point(20, 100)), 22, 40)).toEqual([25, 15, 30, 10, 35, 5, 40]);
    expect(unknownNear(new Map(), 22, 2000).length).toBeLessThanOrEqual(41);
  });

  it('is drawn to a round distance well beyond where it stands', () => {
    expect(greatestDistance(20)).toBe(100);
    expect(greatestDistance(131)).toBe(200);
    expect(greatestDistance(1900)).toBe(2000);
  });

  it('is told what is known there, or on either side, and nothing beyond', () => {
    const known = all(point(10, 120), point(20, 100), point(30, 140));
    expect(knownAt(known, 20)).toEqual({ is: 'there', point: point(20, 100) });
    expect(knownAt(known, 22)).toEqual({ is: 'between', before: point(20, 100), after: point(30, 140) });
    expect(knownAt(known, 31)).toEqual({ is: 'nothing' });
  });

  it('never takes a first sight for what is permitted', () => {
    const permitted = withPoint(all(point(20, 100)), point(20, 90, false));
    expect(permitted.get(20)?.speed_kmh).toBe(90);
    expect(withPoint(permitted, point(20, 100)).get(20)?.speed_kmh).toBe(90);
  });
});
