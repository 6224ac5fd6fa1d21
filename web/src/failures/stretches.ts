/** The plan with a pantograph failed, in stretches, and where it is the plan as it was. */
import type { PlannedSection } from '../engine/answers';

export interface FailureStretch {
  from_km: number;
  to_km: number;
  section: PlannedSection;
  /** Nothing up, nothing dead and no speed differs from the plan. */
  same: boolean;
}

const lookOf = (section: PlannedSection): string =>
  [section.answer, section.raised.join(' '), section.put_dead_in_tow.join(' '), section.speed_kmh].join('|');

/** Whether the plan says the same from one end of `section` to the other. */
function samePlan(section: PlannedSection, plan: PlannedSection[]): boolean {
  const covering = plan.filter((other) => other.from_km < section.to_km - 1e-9 && other.to_km > section.from_km + 1e-9);
  return covering.length > 0 && covering.every((other) => lookOf(other) === lookOf(section));
}

export function mergedFailure(sections: PlannedSection[], plan: PlannedSection[]): FailureStretch[] {
  const stretches: FailureStretch[] = [];
  for (const section of sections) {
    const same = samePlan(section, plan);
    const last = stretches.at(-1);
    if (last && last.same === same && lookOf(last.section) === lookOf(section)) last.to_km = section.to_km;
    else stretches.push({ from_km: section.from_km, to_km: section.to_km, section, same });
  }
  return stretches;
}
