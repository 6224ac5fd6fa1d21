// Permitted speed over the distance of one raised pantograph to the one before it.

import type { Case } from './case';
import type { SimulateRequest, SpeedCurvePoint, SpeedCurveRequest } from './results';

/** Distances that are looked at beside the one that the pantograph stands at. */
export const grid_step_m = 5;
export const least_distance_m = 5;

/** The greatest distance of the drawing: round, and well beyond where the pantograph stands. */
export function greatestDistance(stands_m: number): number {
  return Math.min(Math.max(100, Math.ceil((stands_m * 1.5) / 20) * 20), 2000);
}

/** Where each pantograph stands behind the first, with pantograph `drawn` at a distance to the one before. */
export function placesOf(chosen: Case, drawn: number, distance_m: number): number[] {
  let behind = 0;
  return chosen.pantographs.map((one, i) => {
    behind += i === 0 ? 0 : i === drawn ? distance_m : one.distance_m;
    return Math.round(behind * 1000) / 1000;
  });
}

/** Round distances that nothing is known of yet, the nearest first. */
export function unknownNear(
  known: ReadonlyMap<number, SpeedCurvePoint>,
  stands_m: number,
  to_m: number,
): number[] {
  const step = to_m > 40 * grid_step_m ? Math.ceil(to_m / 40 / grid_step_m) * grid_step_m : grid_step_m;
  const distances: number[] = [];
  for (let at = least_distance_m; at <= to_m; at += step) {
    if (!known.has(at)) distances.push(at);
  }
  return distances.sort((a, b) => Math.abs(a - stands_m) - Math.abs(b - stands_m) || a - b);
}

export function speedCurveRequest(
  chosen: Case,
  drawn: number,
  distance_m: number,
  others_m: number[],
  up_to_kmh: number,
): SpeedCurveRequest {
  const places = placesOf(chosen, drawn, distance_m);
  return {
    kind: 'speed-curve',
    line: chosen.line,
    pantographs: chosen.pantographs.map((one, i) => ({
      model: one.model,
      knuckle: one.knuckle,
      behind_first_m: places[i] as number,
    })),
    drawn_pantograph: drawn + 1,
    distances_m: others_m,
    system: chosen.system === '' ? null : chosen.system,
    up_to_kmh,
    temperature_c: chosen.temperature_c,
    ice_kg_per_m: chosen.ice_kg_per_m,
  };
}

/** All that a curve hangs on but the distance: points of one key belong together. */
export function curveKey(chosen: Case, drawn: number, up_to_kmh: number): string {
  return JSON.stringify(speedCurveRequest(chosen, drawn, 1, [], up_to_kmh));
}

/** What is known where the pantograph stands: of there, or of the neighbours on either side. */
export type Known =
  | { is: 'there'; point: SpeedCurvePoint }
  | { is: 'between'; before: SpeedCurvePoint; after: SpeedCurvePoint }
  | { is: 'nothing' };

export function knownAt(known: ReadonlyMap<number, SpeedCurvePoint>, distance_m: number): Known {
  const there = known.get(distance_m);
  if (there) return { is: 'there', point: there };
  let before: SpeedCurvePoint | null = null;
  let after: SpeedCurvePoint | null = null;
  for (const point of known.values()) {
    if (point.distance_m < distance_m && (!before || point.distance_m > before.distance_m)) before = point;
    if (point.distance_m > distance_m && (!after || point.distance_m < after.distance_m)) after = point;
  }
  return before && after ? { is: 'between', before, after } : { is: 'nothing' };
}

/** What is known with one more point: a first sight never takes the place of a permitted speed. */
export function withPoint(
  known: ReadonlyMap<number, SpeedCurvePoint>,
  point: SpeedCurvePoint,
): Map<number, SpeedCurvePoint> {
  const all = new Map(known);
  const before = all.get(point.distance_m);
  if (!before || before.at_first_sight || !point.at_first_sight) all.set(point.distance_m, point);
  return all;
}

/** What is known of the permitted speed of a run's case. */
export interface PermittedOfRun {
  speed_kmh: number;
  /** No speed up to it failed: higher ones were not looked at. */
  looked_no_higher: boolean;
}

/** The permitted speed of the case of a run, from the curves that are known, by their keys; null where
 *  none of them has it. A first sight is not known. */
export function permittedOfRun(
  run: SimulateRequest,
  curves: Iterable<readonly [string, ReadonlyMap<number, SpeedCurvePoint>]>,
): PermittedOfRun | null {
  let found: PermittedOfRun | null = null;
  let looked_to_kmh = 0;
  for (const [key, points] of curves) {
    const curve = JSON.parse(key) as SpeedCurveRequest;
    const drawn = curve.drawn_pantograph - 1;
    const here = run.pantographs[drawn]?.behind_first_m ?? 0;
    const before = run.pantographs[drawn - 1]?.behind_first_m ?? 0;
    const distance_m = Math.round((here - before) * 1000) / 1000;
    const point = points.get(distance_m);
    if (!point || point.at_first_sight || curve.up_to_kmh <= looked_to_kmh) continue;
    if (!sameCase(run, curve, drawn, distance_m)) continue;
    looked_to_kmh = curve.up_to_kmh;
    found = { speed_kmh: point.speed_kmh, looked_no_higher: point.fails_at_kmh === null };
  }
  return found;
}

/** `curve` has the drawn pantograph 1 m behind the one before it, as keys have. */
function sameCase(run: SimulateRequest, curve: SpeedCurveRequest, drawn: number, distance_m: number): boolean {
  return (
    run.line === curve.line &&
    run.system === curve.system &&
    run.temperature_c === curve.temperature_c &&
    run.ice_kg_per_m === curve.ice_kg_per_m &&
    run.pantographs.length === curve.pantographs.length &&
    run.pantographs.every((one, i) => {
      const other = curve.pantographs[i];
      const stands_m = (other?.behind_first_m ?? 0) + (i >= drawn ? distance_m - 1 : 0);
      return one.model === other?.model && one.knuckle === other.knuckle && Math.abs(one.behind_first_m - stands_m) < 1e-3;
    })
  );
}
