// Layout of the envelope: distance between raised pantographs across, speed upwards. A cell reaches
// half way to its neighbours, since nothing was computed in between.

import { linearScale, type Scale } from './scale';
import type { EnvelopeCell } from './results';

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface HeatMap {
  x: Scale;
  y: Scale;
  /** Borders of cells, one more than there are distances or speeds. */
  distance_edges: number[];
  speed_edges: number[];
  box(spacing: number, speed: number): Box;
}

/** Borders half way between neighbours; the outer ones as far out as the inner ones are. */
export function edgesOf(values: readonly number[]): number[] {
  const first = values[0];
  const last = values[values.length - 1];
  if (first === undefined || last === undefined) {
    return [];
  }
  if (values.length === 1) {
    const half = Math.max(Math.abs(first) * 0.1, 0.5);
    return [first - half, first + half];
  }
  const inner = values.slice(1).map((value, i) => (value + (values[i] as number)) / 2);
  const begin = first - ((inner[0] as number) - first);
  const end = last + (last - (inner[inner.length - 1] as number));
  return [begin, ...inner, end];
}

export function layOut(spacings: readonly number[], speeds: readonly number[], area: Box): HeatMap {
  const distance_edges = edgesOf(spacings);
  const speed_edges = edgesOf(speeds);
  const x = linearScale(
    [distance_edges[0] ?? 0, distance_edges[distance_edges.length - 1] ?? 1],
    [area.x, area.x + area.width],
  );
  const y = linearScale(
    [speed_edges[0] ?? 0, speed_edges[speed_edges.length - 1] ?? 1],
    [area.y + area.height, area.y],
  );
  return {
    x,
    y,
    distance_edges,
    speed_edges,
    box(spacing, speed) {
      const left = x(distance_edges[spacing] as number);
      const top = y(speed_edges[speed + 1] as number);
      return {
        x: left,
        y: top,
        width: x(distance_edges[spacing + 1] as number) - left,
        height: y(speed_edges[speed] as number) - top,
      };
    },
  };
}

/** The permitted speed as level pieces, one a distance: nothing is drawn between two distances. */
export function permittedPieces(
  map: HeatMap,
  permitted_kmh: readonly number[],
): { from: number; to: number; y: number; speed_kmh: number }[] {
  return permitted_kmh.flatMap((speed_kmh, i) =>
    speed_kmh > 0
      ? [
          {
            from: map.x(map.distance_edges[i] as number),
            to: map.x(map.distance_edges[i + 1] as number),
            y: map.y(speed_kmh),
            speed_kmh,
          },
        ]
      : [],
  );
}

/** The published stair within the map as a path; empty where it lies outside. */
export function stairPath(
  map: HeatMap,
  steps: readonly { distance_m: number; speed_kmh: number }[],
): string {
  const left = map.distance_edges[0];
  const right = map.distance_edges[map.distance_edges.length - 1];
  const lowest = map.speed_edges[0];
  const highest = map.speed_edges[map.speed_edges.length - 1];
  if (left === undefined || right === undefined || lowest === undefined || highest === undefined) {
    return '';
  }
  const held = (speed: number) => Math.min(Math.max(speed, lowest), highest);
  let path = '';
  let speed = lowest;
  for (const step of steps) {
    if (step.distance_m > right) {
      break;
    }
    const at = map.x(Math.max(step.distance_m, left));
    path += path === '' ? `M${round(at)} ${round(map.y(held(speed)))}` : `H${round(at)}`;
    speed = step.speed_kmh;
    path += `V${round(map.y(held(speed)))}`;
  }
  return path === '' ? '' : `${path}H${round(map.x(right))}`;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

/** The nearest of the cells that are known, in steps of the map; null where none is within four. */
export function nearestKnown(
  cells: readonly (readonly (EnvelopeCell | null)[])[],
  spacing: number,
  speed: number,
): EnvelopeCell | null {
  const furthest = 4;
  for (let off = 0; off <= furthest; ++off) {
    // What is nearer in distance comes first: margins change more with speed.
    for (let by = 0; by <= off; ++by) {
      for (const [d, v] of [
        [by, off],
        [off, by],
      ] as const) {
        for (const [sign_d, sign_v] of [[-1, -1], [-1, 1], [1, -1], [1, 1]] as const) {
          const cell = cells[spacing + sign_d * d]?.[speed + sign_v * v];
          if (cell) return cell;
        }
      }
    }
  }
  return null;
}

/** All values from `from` to `to`, the last included; empty where they make no sense. */
export function valuesFrom(from: number, to: number, step: number): number[] {
  if (!(step > 0) || !(to >= from) || !(from >= 0)) {
    return [];
  }
  const number = Math.floor((to - from) / step + 1e-9) + 1;
  return number > 2000
    ? []
    : Array.from({ length: number }, (_, i) => Number((from + i * step).toPrecision(12)));
}

/** Cells by distance, then by speed, empty at first. */
export function emptyCells(spacings: number, speeds: number): (EnvelopeCell | null)[][] {
  return Array.from({ length: spacings }, () => Array<EnvelopeCell | null>(speeds).fill(null));
}
