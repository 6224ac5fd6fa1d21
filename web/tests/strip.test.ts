import { describe, expect, test } from 'vitest';
import type { PlannedSection, SeparationCourse } from '../src/engine/answers';
import { changesOf, figure, kmText, sectionIndexAt, timeText } from '../src/state/place';
import { courseAt, courseRange, joinedAt, outlineOf, stageAt, stageWords } from '../src/strip/course';
import { following, labelLeft, mergedSteps, placedLabels, speedScale, stepPath, stretchesOf, ticksOf, xAt, zoomed } from '../src/strip/layout';
import { gapAt, gapX, indexAfterDrop, type ItemPlace } from '../src/train/places';
import { nearby } from '../src/strip/nearby';
import { listed, wordsOf } from '../src/words/words';

const section = (from_km: number, to_km: number, raised: string[], speed_kmh = 100): PlannedSection => ({
  from_km, to_km, section: 's', lines: [], energy_supply: null, iced: false, reversed: false, lowered_for: null, answer: 'permitted',
  raised, put_dead_in_tow: [], speed_kmh, speed_rule: '', speed_reason: '', permitted_speed_kmh: speed_kmh, least_distance_m: null, exposed_loads: [], findings: [],
});

describe('places', () => {
  const sections = [section(0, 10, ['1.1']), section(10, 12, []), section(12, 30, ['1.2'])];
  test('at a border the section that begins there holds', () => {
    expect([0, 9.99, 10, 12, 30].map((km) => sectionIndexAt(sections, km))).toEqual([0, 0, 1, 2, 2]);
    expect(sectionIndexAt([], 3)).toBe(-1);
  });
  test('changes are at borders and at the end', () => {
    expect(changesOf({ sections } as never)).toEqual([0, 10, 12, 30]);
  });
  test('figures follow the language', () => {
    expect(kmText(61.82, 'en')).toBe('61.820');
    expect(kmText(61.82, 'de')).toBe('61,820');
    expect(figure(19.6, 'de')).toBe('19,6');
    expect(figure(100, 'en')).toBe('100');
    expect(timeText(7698.763, 'en')).toBe('2 h 08 min');
    expect(timeText(75, 'en')).toBe('1 min 15 s');
  });
});

describe('the strip', () => {
  const route = { from_km: 0, to_km: 100 };
  test('chainage runs evenly from edge to edge, as the train with its front at the left', () => {
    expect(xAt(route, 1000, 0)).toBe(1000);
    expect(xAt(route, 1000, 25)).toBe(750);
    expect(xAt({ from_km: 50, to_km: 60 }, 1000, 55)).toBe(500);
  });
  test('a label lies behind its place, and within the drawing', () => {
    expect(labelLeft(500, 80, 1000)).toBe(420);
    expect(labelLeft(30, 80, 1000)).toBe(0);
    expect(labelLeft(1040, 80, 1000)).toBe(920);
  });
  test('zooming keeps the place where it is on the screen, and stays on the route', () => {
    const closer = zoomed(route, route, 30, 0.5);
    expect(closer.to_km - closer.from_km).toBe(50);
    expect(xAt(closer, 1000, 30)).toBeCloseTo(xAt(route, 1000, 30));
    expect(zoomed(closer, route, 30, 8)).toEqual(route);
    expect(zoomed({ from_km: 90, to_km: 100 }, route, 99, 3).to_km).toBe(100);
  });
  test('the window follows a place that leaves it', () => {
    const window = { from_km: 10, to_km: 20 };
    expect(following(window, route, 15)).toBe(window);
    const after = following(window, route, 25);
    expect(after.from_km).toBeLessThan(25);
    expect(after.to_km).toBeGreaterThan(25);
    expect(following(window, route, 0).from_km).toBe(0);
  });
  test('neighbours with the same things up are one stretch, whatever their speed', () => {
    const stretches = stretchesOf([section(0, 5, ['1.1']), section(5, 9, ['1.1'], 60), section(9, 10, ['1.2'])]);
    expect(stretches.map((s) => [s.from_km, s.to_km])).toEqual([[0, 9], [9, 10]]);
  });
  test('a step line breaks where there is no speed', () => {
    const steps = mergedSteps([{ from_km: 0, to_km: 1, value: 80 }, { from_km: 1, to_km: 2, value: 80 }, { from_km: 2, to_km: 3, value: 0 }, { from_km: 3, to_km: 4, value: 60 }]);
    expect(steps.length).toBe(3);
    expect(stepPath(steps, (km) => km * 10, (v) => 100 - v)).toBe('M0 20L20 20M30 40L40 40');
  });
  test('words that would touch go to another row, or are left out', () => {
    const labels = [{ x: 0, width: 50, rank: 0 }, { x: 20, width: 50, rank: 0 }, { x: 40, width: 50, rank: 1 }, { x: 980, width: 50, rank: 0 }];
    expect(placedLabels(labels, 2, 1000)).toEqual([0, 1, -1, -1]);
  });
  test('a scale of speeds is round and has few steps', () => {
    expect(speedScale(60)).toEqual([0, 20, 40, 60]);
    expect(speedScale(140)).toEqual([0, 40, 80, 120]);
    expect(speedScale(250)).toEqual([0, 100, 200]);
  });

  test('ticks are round and within', () => {
    expect(ticksOf({ from_km: 0, to_km: 186.4 }, 1200)).toEqual([0, 20, 40, 60, 80, 100, 120, 140, 160, 180]);
    expect(ticksOf({ from_km: 61.3, to_km: 61.9 }, 600)).toEqual([61.3, 61.4, 61.5, 61.6, 61.7, 61.8, 61.9]);
  });
});

describe('a separation section', () => {
  const course: SeparationCourse = {
    separation: 0, section: 0,
    zones: [{ name: 'phase R', kind: 'live', from_m: null, to_m: 0 }, { name: 'the neutral zone', kind: 'neutral', from_m: -3, to_m: 115 }, { name: 'phase S', kind: 'live', from_m: 112, to_m: null }],
    collectors: [{ pantograph: '1.1', behind_front_m: 5, strip_extent_m: 0.5 }],
    joins: [],
    stages: [
      { from_m: -10, to_m: 2, touched: [[0]], joined: [], forbidden: [] },
      { from_m: 2, to_m: 5, touched: [[0, 1]], joined: [{ zones: [0, 1], collectors: [0] }], forbidden: [] },
      { from_m: 5, to_m: 130, touched: [[1]], joined: [], forbidden: [] },
    ],
    deciding_m: 3, reserve_m: 12, said: '',
  };
  test('has a stage for each place of the front', () => {
    expect(courseRange(course)).toEqual({ from_m: -10, to_m: 130 });
    expect(stageAt(course, 3)?.touched).toEqual([[0, 1]]);
    expect(stageAt(course, 500)).toBeNull();
  });
  test('says what is touched and what is joined', () => {
    const words = wordsOf('en');
    const stage = stageAt(course, 3);
    expect(stage && stageWords(course, stage, words)).toEqual(['1.1 touches phase R and the neutral zone', 'Joined: phase R and the neutral zone']);
    const later = stageAt(course, 60);
    expect(later && stageWords(course, later, words)).toEqual(['1.1 touches the neutral zone', 'Nothing is joined.']);
  });
  test('shows the train as it runs through: its front first, turned round behind a reversal', () => {
    const train = {
      length_m: 70,
      vehicles: [{ id: 'K41 7', number: 1, front_m: 0, length_m: 20, pantographs: [{ name: '1.1', from_front_m: 5 }, { name: '1.2', from_front_m: 15 }] }],
      loads: [{ name: 'petrol', front_m: 20, length_m: 50 }],
    };
    const plan = (reversed: boolean): never => ({ train, sections: [{ reversed }] }) as never;
    expect(outlineOf(plan(false), course)).toEqual([
      { from_m: 0, to_m: 20, name: 'K41 7', short: '1', vehicle: true, folded: [15] },
      { from_m: 20, to_m: 70, name: 'petrol', short: '', vehicle: false, folded: [] },
    ]);
    expect(outlineOf(plan(true), course).map((one) => [one.name, one.from_m, one.to_m, one.folded])).toEqual([['petrol', 0, 50, []], ['K41 7', 50, 70, [55]]]);
  });
  test('tells apart what is joined: zones, collectors, and the roof lines between those', () => {
    const wired: SeparationCourse = {
      ...course,
      collectors: [...course.collectors, { pantograph: '2.1', behind_front_m: 25, strip_extent_m: 0.5 }, { pantograph: '3.1', behind_front_m: 45, strip_extent_m: 0.5 }],
      joins: [
        { name: 'roof line', collectors: [0, 1], can_be_opened: false, only_possible: false },
        { name: 'another', collectors: [1, 2], can_be_opened: false, only_possible: false },
      ],
    };
    const joined = joinedAt(wired, { from_m: 0, to_m: 1, touched: [[0], [1], [2]], joined: [{ zones: [0, 1], collectors: [0, 1] }, { zones: [2], collectors: [2] }], forbidden: [] });
    expect([joined.zones, joined.collectors, joined.joins].map((one) => [...one])).toEqual([[0, 1], [0, 1], [0]]);
    expect(joinedAt(wired, null).zones.size).toBe(0);
  });
  test('is found by the chainage of the front', () => {
    const begins = (): number => 84;
    expect(courseAt([course], begins, 84.05)).toBe(0);
    expect(courseAt([course], begins, 83.9)).toBe(-1);
    expect(courseAt([course], () => undefined, 84.05)).toBe(-1);
  });
});

describe('dragging', () => {
  const places: ItemPlace[] = [0, 1, 2].map((index) => ({ index, name: `vehicle ${index + 1}`, x: index * 100, y: 0, width: 90, height: 20 }));
  test('goes to the gap nearest to the pointer', () => {
    expect([10, 60, 130, 260, 400].map((x) => gapAt(places, x))).toEqual([0, 1, 1, 3, 3]);
    expect(gapX(places, 1)).toBe(95);
  });
  test('a drop beside itself changes nothing', () => {
    expect(indexAfterDrop(places, 1, 1)).toBe(1);
    expect(indexAfterDrop(places, 1, 2)).toBe(1);
  });
  test('a drop elsewhere counts without the item itself', () => {
    expect(indexAfterDrop(places, 0, 3)).toBe(2);
    expect(indexAfterDrop(places, 2, 0)).toBe(0);
  });
  test('after a reversal the drawing runs the other way', () => {
    const reversed = [...places].reverse().map((place, i) => ({ ...place, x: i * 100 }));
    expect(indexAfterDrop(reversed, 2, 3)).toBe(0);
    expect(indexAfterDrop(reversed, 0, 0)).toBe(2);
  });
});

test('names are listed as they are read', () => {
  expect(listed(wordsOf('en'), ['1.1', '2.2', '3.1'])).toBe('1.1, 2.2 and 3.1');
  expect(listed(wordsOf('de'), ['1.1'])).toBe('1.1');
});

test('what is at a place is said', () => {
  const route = {
    stops: [{ name: 'Aldmoor', at_km: 100, reversal: true }], landmarks: [{ name: 'Grenna board', at_km: 61.38, signal: false }], section_insulators: [],
    separations: [{ name: 'Grenna', from_km: 61.58, to_km: 61.82, breaker_off: true }], lowered: [], low_places: [],
  };
  const said = (km: number): string[] => nearby(route as never, km, wordsOf('en'));
  expect(said(100.02)).toEqual(['at Aldmoor, stop, the train leaves in the other direction']);
  expect(said(61.7)).toEqual(['in Grenna, main circuit breaker off']);
  expect(said(50)).toEqual([]);
});
