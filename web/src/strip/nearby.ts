/** What of the route is where the front of the train is, in words. */
import type { RouteModel } from '../engine/answers';
import type { Words } from '../words/words';

/** Something at one chainage counts as here within this many kilometres. */
const near_km = 0.05;

export function nearby(route: RouteModel, km: number, words: Words): string[] {
  const within = (one: { from_km: number; to_km: number }): boolean => one.from_km <= km + 1e-9 && km <= one.to_km + 1e-9;
  const at = (at_km: number): boolean => Math.abs(at_km - km) <= near_km;
  return [
    ...route.stops.filter((one) => at(one.at_km)).map((one) => [words.at_thing(one.name), words.stop, ...(one.reversal ? [words.reversal] : [])].join(', ')),
    ...route.landmarks.filter((one) => at(one.at_km)).map((one) => words.at_thing(one.name)),
    ...route.section_insulators.filter((one) => at(one.at_km)).map((one) => words.at_thing(one.name)),
    ...route.separations.filter(within).map((one) => [words.within(one.name), ...(one.breaker_off ? [words.breaker_off] : [])].join(', ')),
    ...route.lowered.filter(within).map((one) => [words.within(one.name), words.all_down].join(', ')),
    ...route.low_places.filter(within).map((one) => [words.within(one.name), words.low_wire].join(', ')),
  ];
}
