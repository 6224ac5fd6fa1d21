/** Places along the route, and figures as they are written. */
import type { Instruction, Language, Plan, PlanAnswer, PlannedSection } from '../engine/answers';

/** Index of the section of the plan in which the front stands at a chainage; at a border, the one
 *  that begins there. -1 where the plan has none. */
export function sectionIndexAt(sections: PlannedSection[], km: number): number {
  let found = sections.length > 0 ? 0 : -1;
  sections.forEach((section, index) => {
    if (section.from_km <= km + 1e-9) found = index;
  });
  return found;
}

/** What the driver has been ordered by the time the front is at a chainage. Near a border the orders
 *  come before or behind it: what is up and how fast goes by them. */
export interface Ordered {
  raised: string[];
  /** 0 where the train may not run. */
  speed_kmh: number;
  /** One clause, or the order itself; empty where nothing is permitted, which the findings explain. */
  speed_reason: string;
  /** The orders have the train stop there: it does not come here. Null: it does. */
  stopped_km: number | null;
}

/** By the plan's orders; by the section itself where nothing is permitted or the train does not come,
 *  for the orders end before it. Whoever says how fast the train runs at a place, and why, asks here.
 *  Null where the plan has no sections. */
export function orderedAt(plan: Plan, km: number): Ordered | null {
  const section = plan.sections[sectionIndexAt(plan.sections, km)];
  if (!section) return null;
  const { raised, speed_kmh, speed_reason } = section;
  const by_section = { raised, speed_kmh, speed_reason, stopped_km: null };
  if (section.answer === 'no permitted configuration') return by_section;
  const up = new Set<string>();
  let speed: Instruction | null = null;
  for (const order of plan.instructions) {
    if (order.at_km > km + 1e-9) break;
    if (order.action === 'raise') order.pantographs.forEach((name) => up.add(name));
    if (order.action === 'lower') order.pantographs.forEach((name) => up.delete(name));
    if (order.action === 'speed') speed = order;
  }
  if (speed?.speed_kmh === 0) return { raised, speed_kmh: 0, speed_reason: speed.text, stopped_km: speed.at_km };
  const ordered = { ...by_section, raised: inOrder(plan, section, up) };
  return speed?.speed_kmh != null && speed.speed_kmh < speed_kmh ? { ...ordered, speed_kmh: speed.speed_kmh, speed_reason: speed.text } : ordered;
}

/** From the front of the train as it runs. */
function inOrder(plan: Plan, section: PlannedSection, names: Set<string>): string[] {
  const all = plan.train.vehicles.flatMap((vehicle) => vehicle.pantographs);
  all.sort((a, b) => (section.reversed ? -1 : 1) * (a.from_front_m - b.from_front_m));
  return all.map((one) => one.name).filter((name) => names.has(name));
}

const sameNames = (a: string[], b: string[]): boolean => a.length === b.length && a.every((name) => b.includes(name));

/** Whether orders are still to come, or gone ahead, of what the section has up. */
export const isBetween = (section: PlannedSection, ordered: Ordered): boolean => !sameNames(section.raised, ordered.raised);

/** Index of the picture that shows what is up there: that of the section, or of another one in which
 *  the same is up. `as_planned`: there is none, and the picture shows what the section says. */
export function pictureAt(answer: PlanAnswer, km: number): { index: number; as_planned: boolean } {
  const sections = answer.plan.sections;
  const at = sectionIndexAt(sections, km);
  const section = sections[at];
  const own = answer.section_pictures[at] ?? 0;
  const ordered = orderedAt(answer.plan, km);
  if (!section || !ordered || sameNames(section.raised, ordered.raised)) return { index: own, as_planned: false };
  const alike = sections.findIndex((one) => one.reversed === section.reversed && sameNames(one.raised, ordered.raised));
  return alike < 0 ? { index: own, as_planned: true } : { index: answer.section_pictures[alike] ?? own, as_planned: false };
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

/** A speed, never more than it is. */
export const speedFigure = (kmh: number, language: Language): string => figure(Math.floor(kmh * 10 + 1e-6) / 10, language);

export function timeText(seconds: number, language: Language): string {
  const whole = Math.round(Math.abs(seconds));
  const h = language === 'de' ? 'Std' : 'h';
  if (whole >= 3600) {
    const all = Math.round(whole / 60);
    return `${Math.floor(all / 60)} ${h} ${String(all % 60).padStart(2, '0')} min`;
  }
  const minutes = Math.floor(whole / 60);
  const rest = whole % 60;
  return minutes > 0 ? `${minutes} min ${String(rest).padStart(2, '0')} s` : `${rest} s`;
}

/** Minutes, under ten of them to a tenth, for a column of figures. */
export function briefTime(seconds: number, language: Language): string {
  const minutes = Math.abs(seconds) / 60;
  return `${decimal(minutes.toFixed(minutes < 9.95 ? 1 : 0), language)} min`;
}

/** "15 kV 16.7 Hz": the system without what its figures say already. */
export const shortSystem = (system: string): string => system.replace(/^AC /, '');
