/** A train's way through a separation section: which stage it is in, and what that is in words. */
import type { Plan, SeparationCourse } from '../engine/answers';
import { listed, type Words } from '../words/words';

type Stage = SeparationCourse['stages'][number];

/** Metres of the front from the beginning of the section, over which something is to be seen. */
export function courseRange(course: SeparationCourse): { from_m: number; to_m: number } {
  const first = course.stages[0];
  const last = course.stages.at(-1);
  const bounded = course.zones.flatMap((zone) => [zone.from_m, zone.to_m]).filter((m) => m !== null);
  const deepest = Math.max(0, ...course.collectors.map((one) => one.behind_front_m));
  return {
    from_m: first ? first.from_m : Math.min(0, ...bounded),
    to_m: last ? last.to_m : Math.max(0, ...bounded) + deepest,
  };
}

export const stageAt = (course: SeparationCourse, front_m: number): Stage | null =>
  course.stages.find((stage) => front_m >= stage.from_m && front_m <= stage.to_m) ?? null;

/** A vehicle or a load behind the front of the train as it runs. */
export interface Body {
  from_m: number;
  to_m: number;
  name: string;
  /** For where the name has no room: a vehicle's number; empty for a load. */
  short: string;
  vehicle: boolean;
  /** Where pantographs lie folded. */
  folded: number[];
}

/** Metres behind the front as the train runs through the separation section: turned round where it runs
 *  against its direction at departure. */
export function outlineOf(plan: Plan, course: SeparationCourse): Body[] {
  const { vehicles, loads, length_m } = plan.train;
  const reversed = plan.sections[course.section]?.reversed ?? false;
  const behind = (m: number): number => (reversed ? length_m - m : m);
  const up = new Set(course.collectors.map((one) => one.pantograph));
  const body = (front_m: number, length: number, rest: Pick<Body, 'name' | 'short' | 'vehicle' | 'folded'>): Body => {
    const ends = [behind(front_m), behind(front_m + length)];
    return { from_m: Math.min(...ends), to_m: Math.max(...ends), ...rest };
  };
  return [
    ...vehicles.map((one) =>
      body(one.front_m, one.length_m, {
        name: one.id,
        short: String(one.number),
        vehicle: true,
        folded: one.pantographs.filter((other) => !up.has(other.name)).map((other) => behind(other.from_front_m)),
      }),
    ),
    ...loads.map((one) => body(one.front_m, one.length_m, { name: one.name, short: '', vehicle: false, folded: [] })),
  ].sort((a, b) => a.from_m - b.from_m);
}

/** What is joined in a stage, by index: zones that have become one, the collectors and the roof lines
 *  through which they have. */
export interface Joined {
  zones: Set<number>;
  collectors: Set<number>;
  joins: Set<number>;
}

export function joinedAt(course: SeparationCourse | null, stage: Stage | null): Joined {
  const groups = (stage?.joined ?? []).filter((one) => one.zones.length > 1);
  const joins = (course?.joins ?? []).flatMap((join, index) =>
    groups.some((group) => join.collectors.filter((one) => group.collectors.includes(one)).length > 1) ? [index] : [],
  );
  return {
    zones: new Set(groups.flatMap((one) => one.zones)),
    collectors: new Set(groups.flatMap((one) => one.collectors)),
    joins: new Set(joins),
  };
}

/** What each collector touches, and what is joined by it, one sentence a line. */
export function stageWords(course: SeparationCourse, stage: Stage, words: Words): string[] {
  const zones = (indices: number[]): string => listed(words, indices.map((i) => course.zones[i]?.name ?? '').filter(Boolean));
  const said = course.collectors.map((collector, index) => {
    const touched = stage.touched[index] ?? [];
    return touched.length > 0 ? words.touches(collector.pantograph, zones(touched)) : words.touches_nothing(collector.pantograph);
  });
  const joined = stage.joined.filter((one) => one.zones.length > 1).map((one) => words.joined_zones(zones(one.zones)));
  return [...said, ...(joined.length > 0 ? joined : [words.joined_nothing])];
}

/** The course to be seen with the front at a chainage; -1 where none is near. */
export function courseAt(courses: SeparationCourse[], begins_km: (separation: number) => number | undefined, km: number): number {
  return courses.findIndex((course) => {
    const from = begins_km(course.separation);
    if (from === undefined) return false;
    const range = courseRange(course);
    const front_m = (km - from) * 1000;
    return front_m >= range.from_m - 1e-6 && front_m <= range.to_m + 1e-6;
  });
}
