/** Places along the route, and figures as they are written. */
import type { Language, Plan, PlannedSection } from '../engine/answers';

/** Index of the section of the plan in which the front stands at a chainage; at a border, the one
 *  that begins there. -1 where the plan has none. */
export function sectionIndexAt(sections: PlannedSection[], km: number): number {
  let found = sections.length > 0 ? 0 : -1;
  sections.forEach((section, index) => {
    if (section.from_km <= km + 1e-9) found = index;
  });
  return found;
}

/** Chainages at which what is up, its speed or its way changes, rising, both ends included. */
export function changesOf(plan: Plan): number[] {
  const places = plan.sections.map((section) => section.from_km);
  const last = plan.sections.at(-1);
  if (last) places.push(last.to_km);
  return [...new Set(places)].sort((a, b) => a - b);
}

const decimal = (text: string, language: Language): string =>
  language === 'de' ? text.replace('.', ',') : text;

export const kmText = (km: number, language: Language): string => decimal(km.toFixed(3), language);

/** At most `digits` behind the point, without idle noughts. */
export const figure = (value: number, language: Language, digits = 1): string =>
  decimal(String(Number(value.toFixed(digits))), language);

export function timeText(seconds: number, language: Language): string {
  const whole = Math.round(Math.abs(seconds));
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  const rest = whole % 60;
  const h = language === 'de' ? 'Std' : 'h';
  if (hours > 0) return `${hours} ${h} ${String(minutes).padStart(2, '0')} min`;
  return minutes > 0 ? `${minutes} min ${String(rest).padStart(2, '0')} s` : `${rest} s`;
}

/** "15 kV 16.7 Hz": the system without what its figures say already. */
export const shortSystem = (system: string): string => system.replace(/^AC /, '');
