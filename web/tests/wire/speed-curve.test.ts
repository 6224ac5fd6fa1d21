import { describe, expect, it } from 'vitest';
import { simulateRequest, type Case } from '../../src/wire/case';
import type { SimulateRequest, SpeedCurvePoint } from '../../src/wire/results';
import {
  curveKey,
  greatestDistance,
  knownAt,
  permittedOfRun,
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

describe('the permitted speed of a run', () => {
  const runOf = (chosen: Case): SimulateRequest => {
    const made = simulateRequest(chosen);
    if (!('request' in made)) throw new Error('no request');
    return made.request;
  };
  const settled = (distance_m: number, speed_kmh: number, fails_at_kmh: number | null) => ({ ...point(distance_m, speed_kmh, false), fails_at_kmh });
  const drawn = (at: number, distance_m: number): Case => ({
    ...three,
    pantographs: three.pantographs.map((one, i) => (i === at ? { ...one, distance_m } : one)),
  });

  it('is that of the curve of the same case, whichever pantograph was drawn', () => {
    for (const at of [1, 2]) {
      const curves: [string, Map<number, SpeedCurvePoint>][] = [[curveKey(three, at, 140), all(settled(30, 110, 112), settled(45, 124, 126))]];
      expect(permittedOfRun(runOf(drawn(at, 30)), curves)).toEqual({ speed_kmh: 110, looked_no_higher: false });
      expect(permittedOfRun(runOf(drawn(at, 45)), curves)).toEqual({ speed_kmh: 124, looked_no_higher: false });
      expect(permittedOfRun(runOf(drawn(at, 50)), curves)).toBeNull();
      expect(permittedOfRun(runOf(drawn(3 - at, 45)), curves)).toBeNull();
    }
  });

  it('is not known of another line, system, temperature, ice, model, knuckle or number raised', () => {
    const curves: [string, Map<number, SpeedCurvePoint>][] = [[curveKey(three, 1, 140), all(settled(20, 110, 112))]];
    const run = runOf(three);
    expect(permittedOfRun(run, curves)?.speed_kmh).toBe(110);
    const [first, ...others] = run.pantographs as [SimulateRequest['pantographs'][number], ...SimulateRequest['pantographs']];
    const changed: SimulateRequest[] = [
      { ...run, line: 'm.toml' },
      { ...run, system: 'DC 3 kV' },
      { ...run, temperature_c: null },
      { ...run, ice_kg_per_m: 0.5 },
      { ...run, pantographs: [{ ...first, model: 'q.toml' }, ...others] },
      { ...run, pantographs: [{ ...first, knuckle: 'trailing' }, ...others] },
      { ...run, pantographs: run.pantographs.slice(0, 2) },
    ];
    for (const one of changed) expect(permittedOfRun(one, curves)).toBeNull();
    expect(permittedOfRun({ ...run, speed_kmh: 60 }, curves)?.speed_kmh).toBe(110);
  });

  it('is not known from a first sight', () => {
    expect(permittedOfRun(runOf(three), [[curveKey(three, 1, 140), all(point(20, 110))]])).toBeNull();
  });

  it('says where no higher speed was looked at, and goes by the curve that looked furthest', () => {
    const low: [string, Map<number, SpeedCurvePoint>] = [curveKey(three, 1, 100), all(settled(20, 100, null))];
    const high: [string, Map<number, SpeedCurvePoint>] = [curveKey(three, 1, 140), all(settled(20, 118, 120))];
    expect(permittedOfRun(runOf(three), [low])).toEqual({ speed_kmh: 100, looked_no_higher: true });
    for (const curves of [[low, high], [high, low]]) {
      expect(permittedOfRun(runOf(three), curves)).toEqual({ speed_kmh: 118, looked_no_higher: false });
    }
  });
});
