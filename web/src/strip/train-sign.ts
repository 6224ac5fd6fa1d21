/** How the train is laid out as a sign: every vehicle and every load as wide as any other, its front at
 *  the left as it runs. */
import type { Plan } from '../engine/answers';

export const vehicle_width = 30;
export const load_width = 26;
const between = 2;

export interface Sign {
  x: number;
  width: number;
  /** A vehicle's number; null for a load. */
  number: number | null;
  /** Of a load; empty of a vehicle. */
  nature: string;
  dead: boolean;
  pantographs: { name: string; x: number; up: boolean; defective: boolean; frame: string; leading: boolean }[];
}

export function signsOf(plan: Plan, raised: string[], dead: number[], reversed: boolean): Sign[] {
  const { vehicles, loads } = plan.train;
  const all = [
    ...vehicles.map((vehicle) => ({ at: vehicle.front_m, vehicle, load: null })),
    ...loads.map((load) => ({ at: load.front_m, vehicle: null, load })),
  ].sort((a, b) => (reversed ? b.at - a.at : a.at - b.at));
  let left = 0;
  return all.map(({ vehicle, load }) => {
    const width = vehicle ? vehicle_width : load_width;
    const x = left;
    left += width + between;
    return {
      x,
      width,
      number: vehicle?.number ?? null,
      nature: load?.nature ?? '',
      dead: vehicle !== null && (vehicle.dead_in_tow || dead.includes(vehicle.number)),
      pantographs: (vehicle?.pantographs ?? []).map((one) => {
        const share = (one.from_front_m - (vehicle?.front_m ?? 0)) / (vehicle?.length_m ?? 1);
        return {
          name: one.name,
          x: x + 3 + (width - 6) * (reversed ? 1 - share : share),
          up: raised.includes(one.name),
          defective: one.defective,
          frame: one.frame,
          leading: (one.knuckle === 'leading') !== reversed,
        };
      }),
    };
  });
}

export const signsWidth = (plan: Plan): number =>
  plan.train.vehicles.length * (vehicle_width + between) + plan.train.loads.length * (load_width + between);
