/** In what two plans of one train on one route differ, place by place. */
import type { Plan, PlannedSection } from '../engine/answers';

export interface Difference {
  from_km: number;
  to_km: number;
  /** What each plan has there. */
  now: PlannedSection;
  other: PlannedSection;
  what: ('raised' | 'speed' | 'answer' | 'dead')[];
}

const sectionOver = (sections: PlannedSection[], km: number): PlannedSection | null => sections.find((one) => one.from_km <= km && km <= one.to_km) ?? null;
const same = (a: readonly unknown[], b: readonly unknown[]): boolean => a.length === b.length && a.every((one) => b.includes(one));

function whatOf(now: PlannedSection, other: PlannedSection): Difference['what'] {
  return [
    ...(same(now.raised, other.raised) ? [] : ['raised' as const]),
    ...(now.speed_kmh === other.speed_kmh ? [] : ['speed' as const]),
    ...(now.answer === other.answer ? [] : ['answer' as const]),
    ...(same(now.put_dead_in_tow, other.put_dead_in_tow) ? [] : ['dead' as const]),
  ];
}

const sameThings = (a: PlannedSection, b: PlannedSection): boolean => whatOf(a, b).length === 0;

/** Stretches that differ, rising; neighbours that differ in the same things by the same values are one. */
export function differencesOf(now: PlannedSection[], other: PlannedSection[]): Difference[] {
  const borders = [...new Set([...now, ...other].flatMap((one) => [one.from_km, one.to_km]))].sort((a, b) => a - b);
  const found: Difference[] = [];
  borders.slice(0, -1).forEach((from_km, index) => {
    const to_km = borders[index + 1] ?? from_km;
    const middle = (from_km + to_km) / 2;
    const [here, there] = [sectionOver(now, middle), sectionOver(other, middle)];
    const what = here && there ? whatOf(here, there) : [];
    if (!here || !there || what.length === 0) return;
    const last = found.at(-1);
    if (last && last.to_km === from_km && sameThings(last.now, here) && sameThings(last.other, there)) last.to_km = to_km;
    else found.push({ from_km, to_km, now: here, other: there, what });
  });
  return found;
}

/** Pantographs that are up in one of the two only. */
export const changedBetween = (now: string[], other: string[]): string[] => [...now.filter((one) => !other.includes(one)), ...other.filter((one) => !now.includes(one))];

/** Plans are set side by side where they are of one route and of the same pantographs in the same places. */
export function comparable(now: Plan, other: Plan): boolean {
  const placed = (plan: Plan): string => JSON.stringify(plan.train.vehicles.map((one) => [one.number, one.front_m, one.pantographs.map((each) => [each.name, each.from_front_m])]));
  return now.route.id === other.route.id && placed(now) === placed(other);
}

/** A plan as `panup plan --format json` writes it; null where the text is none. */
export function planFrom(text: string): Plan | null {
  try {
    const value = JSON.parse(text) as Partial<Plan> | null;
    return Array.isArray(value?.sections) && Array.isArray(value.instructions) && Array.isArray(value.train?.vehicles) && typeof value.route?.id === 'string' ? (value as Plan) : null;
  } catch {
    return null;
  }
}
