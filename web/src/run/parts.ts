/** The parts of a run: the train keeps its vehicles from one end of a part to the other. */
import type { Plan, PlanAnswer, PlanAnswerWord, RunAnswer, TrainModel } from '../engine/answers';
import { isVehicle } from '../train/consist';

export const isRun = (answer: PlanAnswer | RunAnswer): answer is RunAnswer => 'parts' in answer;

/** A part that there is; 1 where the answer is of no run. */
export const partWithin = (answer: PlanAnswer | RunAnswer, run_part: number): number =>
  isRun(answer) ? Math.max(1, Math.min(run_part, answer.parts.length)) : 1;

/** What is shown of an answer: of a run, one part of it. */
export function openPart(answer: PlanAnswer | RunAnswer, run_part: number): PlanAnswer {
  if (!isRun(answer)) return answer;
  const part = answer.parts[partWithin(answer, run_part) - 1];
  if (!part) throw new Error('a run has a part at least');
  const { plan, route, pictures, section_pictures, separations, consents_used } = part;
  return { plan, train: answer.train, train_text: answer.train_text, route, pictures, section_pictures, separations, consents_used };
}

export interface EndChange {
  what: 'leaves' | 'comes' | 'runs round' | 'turned' | 'dead' | 'working' | 'turns back';
  /** Own numbers of vehicles, names of loads; nobody where it is the train. */
  who: string[];
}

interface Item {
  key: string;
  name: string;
  front_m: number;
}

/** Vehicles and loads, front first at departure. Loads have no number: of two of one name each counts. */
function itemsOf({ train }: Plan): Item[] {
  const met = new Map<string, number>();
  const loads = train.loads.map(({ name, front_m }) => {
    const count = (met.get(name) ?? 0) + 1;
    met.set(name, count);
    return { key: `load ${count} ${name}`, name, front_m };
  });
  const vehicles = train.vehicles.map(({ number, id, front_m }) => ({ key: `vehicle ${number}`, name: id, front_m }));
  return [...vehicles, ...loads].sort((a, b) => a.front_m - b.front_m);
}

/** Vehicles that have gone from one end of the train to the other; of two groups that may have, the
 *  smaller. */
function runRound(before: Item[], then: Item[]): Item[] {
  const first = then[0];
  const at = first ? before.findIndex((one) => one.key === first.key) : -1;
  if (at <= 0) return [];
  const turned = [...before.slice(at), ...before.slice(0, at)];
  if (!turned.every((one, place) => one.key === then[place]?.key)) return [];
  const groups = [before.slice(0, at), before.slice(at)].filter((group) => group.every((one) => one.key.startsWith('vehicle')));
  return groups.sort((a, b) => a.length - b.length)[0] ?? [];
}

/** In what the train of the next part is another than this. */
export function changesBetween(part: Plan, next: Plan): EndChange[] {
  const before = itemsOf(part);
  const then = itemsOf(next);
  const lack = (items: Item[], others: Item[]): string[] => items.filter((one) => !others.some((other) => other.key === one.key)).map((one) => one.name);
  const stay = (items: Item[], others: Item[]): Item[] => items.filter((one) => others.some((other) => other.key === one.key));
  const both = part.train.vehicles.flatMap((vehicle) => {
    const later = next.train.vehicles.find((one) => one.number === vehicle.number);
    return later ? [{ vehicle, later }] : [];
  });
  const where = (is: (pair: (typeof both)[number]) => boolean): string[] => both.filter(is).map(({ vehicle }) => vehicle.id);
  const all: EndChange[] = [
    { what: 'leaves', who: lack(before, then) },
    { what: 'comes', who: lack(then, before) },
    { what: 'runs round', who: runRound(stay(before, then), stay(then, before)).map((one) => one.name) },
    { what: 'turned', who: where(({ vehicle, later }) => vehicle.leading_cab !== later.leading_cab) },
    { what: 'dead', who: where(({ vehicle, later }) => !vehicle.dead_in_tow && later.dead_in_tow) },
    { what: 'working', who: where(({ vehicle, later }) => vehicle.dead_in_tow && !later.dead_in_tow) },
  ];
  const turns_back = part.sections.at(-1)?.reversed !== next.sections[0]?.reversed;
  return [...all.filter((one) => one.who.length > 0), ...(turns_back ? [{ what: 'turns back' as const, who: [] }] : [])];
}

export interface PartHead {
  number: number;
  from: string;
  to: string;
  from_km: number;
  to_km: number;
  answer: PlanAnswerWord;
  last_resort: boolean;
  /** What happens to the train where it ends; nothing where the run ends too. */
  changes: EndChange[];
}

export const partHeads = (run: RunAnswer): PartHead[] =>
  run.parts.map(({ from, to, plan, route }, index) => {
    const next = run.parts[index + 1];
    return {
      number: index + 1,
      from,
      to,
      from_km: route.from_km,
      to_km: route.to_km,
      answer: plan.answer,
      last_resort: plan.last_resort_accepted,
      changes: next ? changesBetween(plan, next.plan) : [],
    };
  });

/** The first part whose answer is that of the train; null where every part is permitted. */
export function worstPart(run: RunAnswer): number | null {
  if (run.answer === 'permitted') return null;
  const index = run.parts.findIndex(({ plan }) => plan.answer === run.answer);
  return index < 0 ? null : index + 1;
}

/** Whether the vehicle is none of the train's own file: it is attached on the way, and the run says what it is. */
export const comesOnTheWay = (train: TrainModel, vehicle: number): boolean => vehicle > train.consist.filter(isVehicle).length;

/** The line of a text, counted from 1, on which a vehicle's own number stands; null where it does not. */
export function lineNaming(text: string, id: string): number | null {
  const index = text.split('\n').findIndex((line) => /^\s*id\s*=/.test(line) && line.includes(`"${id}"`));
  return index < 0 ? null : index + 1;
}
