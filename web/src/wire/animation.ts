// The wire at one moment: its shape between two kept times, and what of it lies in view.

import { interpolate, lowerBound } from './scale';
import type { WireCourse, WireShapes } from './results';

/** Two kept times and how far the moment lies from the first to the second, 0 to 1. */
export interface Moment {
  before: number;
  after: number;
  share: number;
}

export function momentAt(times_s: readonly number[], time_s: number): Moment {
  const last = times_s.length - 1;
  const after = Math.min(lowerBound(times_s, time_s), last);
  const before = Math.max(after - 1, 0);
  if (after === before) {
    return { before, after, share: 0 };
  }
  const from = times_s[before] as number;
  const share = (time_s - from) / ((times_s[after] as number) - from);
  return { before, after, share: Math.min(Math.max(share, 0), 1) };
}

function between(values: readonly (readonly number[])[], moment: Moment, i: number): number {
  const before = values[moment.before]?.[i] ?? 0;
  const after = values[moment.after]?.[i] ?? before;
  return before + moment.share * (after - before);
}

export interface View {
  from_m: number;
  to_m: number;
}

/**
 * What to look at: `width_m` of the line with the pantographs in it, the first a quarter from the
 * front, held within the line; wider where they stand farther apart.
 */
export function viewAround(places_m: readonly number[], width_m: number, line: View): View {
  if (places_m.length === 0) {
    return { from_m: line.from_m, to_m: Math.min(line.from_m + width_m, line.to_m) };
  }
  const front = Math.max(...places_m);
  const rear = Math.min(...places_m);
  const width = Math.min(Math.max(width_m, (front - rear) * 1.5), line.to_m - line.from_m);
  const from = Math.min(Math.max(front - width * 0.75, line.from_m), line.to_m - width);
  return { from_m: from, to_m: from + width };
}

export interface WirePoint {
  at_m: number;
  rest_m: number;
  lift_m: number;
}

/** The points of a wire that lie in view, with one beyond each end of it. */
export function wirePoints(wire: WireCourse, moment: Moment, view: View): WirePoint[] {
  const from = Math.max(lowerBound(wire.at_m, view.from_m) - 1, 0);
  const to = Math.min(lowerBound(wire.at_m, view.to_m) + 1, wire.at_m.length);
  const points: WirePoint[] = [];
  for (let i = from; i < to; ++i) {
    points.push({
      at_m: wire.at_m[i] as number,
      rest_m: wire.rest_m[i] ?? 0,
      lift_m: between(wire.lift_mm, moment, i) / 1000,
    });
  }
  return points;
}

export function pantographPlaces(shapes: WireShapes, moment: Moment): number[] {
  return (shapes.pantographs_at_m[moment.before] ?? []).map((_, i) =>
    between(shapes.pantographs_at_m, moment, i),
  );
}

export interface HeadPlace {
  at_m: number;
  /** Height of the wire at rest, and by how much the head stands above it. */
  rest_m: number;
  lift_m: number;
}

export function headPlaces(shapes: WireShapes, moment: Moment): HeadPlace[] {
  const contact = shapes.wires.find((wire) => wire.name === 'contact wire');
  return pantographPlaces(shapes, moment).map((at_m, i) => {
    const rest_m = contact ? interpolate(contact.at_m, contact.rest_m, at_m) : 0;
    return { at_m, rest_m, lift_m: between(shapes.head_height_m, moment, i) - rest_m };
  });
}

/** Greatest lift of any wire at any time, in m: what an exaggeration is chosen by. */
export function greatestLift(shapes: WireShapes): number {
  let greatest = 0;
  for (const wire of shapes.wires) {
    for (const lifts of wire.lift_mm) {
      for (const lift of lifts) {
        greatest = Math.max(greatest, Math.abs(lift));
      }
    }
  }
  return greatest / 1000;
}
