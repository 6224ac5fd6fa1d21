/** What an envelope is computed over, so that the train's own point lies in it. */
import type { Case, EnvelopeCase, Range } from './case';

export interface OwnPoint {
  spacing_m: number;
  speed_kmh: number;
}

/** The closest two raised pantographs, at the speed of the section; null where fewer are raised. */
export function ownPoint(chosen: Case | null): OwnPoint | null {
  const distances = (chosen?.pantographs ?? []).slice(1).map((one) => one.distance_m);
  return chosen && distances.length > 0 && chosen.speed_kmh > 0 ? { spacing_m: Math.min(...distances), speed_kmh: chosen.speed_kmh } : null;
}

const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Steps on either side of a point, which is one of them; none at or below nothing. */
function around(point: number, step: number, below: number, above: number): Range {
  const down = Math.min(below, Math.ceil(point / step) - 1);
  return { from: tenth(point - down * step), to: tenth(point + above * step), step };
}

export function rangesAround(own: OwnPoint | null, up_to_kmh: number): Pick<EnvelopeCase, 'spacings' | 'speeds'> {
  if (!own) return { spacings: { from: 10, to: 100, step: 10 }, speeds: { from: 40, to: up_to_kmh, step: 10 } };
  // Far apart, what changes with distance changes slowly.
  const step_m = own.spacing_m <= 40 ? 5 : own.spacing_m <= 150 ? 10 : 20;
  return { spacings: around(own.spacing_m, step_m, 4, 5), speeds: around(own.speed_kmh, 10, 5, 4) };
}
