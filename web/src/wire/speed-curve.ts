// Permitted speed over the distance of one raised pantograph to the one before it.

import type { Case } from './case';
import type { SpeedCurvePoint, SpeedCurveRequest } from './results';

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
