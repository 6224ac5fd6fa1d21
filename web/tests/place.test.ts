import { expect, test } from 'vitest';
import type { PlanAnswer } from '../src/engine/answers';
import { briefTime, isBetween, orderedAt, pictureAt, timeText } from '../src/state/place';

const section = (from_km: number, to_km: number, raised: string[], speed_kmh: number, more: object = {}) => ({
  from_km, to_km, raised, speed_kmh, reversed: false, answer: 'permitted', ...more,
});

/** 1.2 up to km 10, passed with all down to km 10.3, then 1.1; lowered before, raised behind. */
const answer = {
  plan: {
    train: { vehicles: [{ pantographs: [{ name: '1.1', from_front_m: 4 }, { name: '1.2', from_front_m: 14 }] }] },
    sections: [section(0, 10, ['1.2'], 120), section(10, 10.3, [], 80), section(10.3, 20, ['1.1'], 100)],
    instructions: [
      { at_km: 0, action: 'raise', pantographs: ['1.2'], speed_kmh: null },
      { at_km: 0, action: 'speed', pantographs: [], speed_kmh: 120 },
      { at_km: 9.8, action: 'speed', pantographs: [], speed_kmh: 80 },
      { at_km: 9.9, action: 'lower', pantographs: ['1.2'], speed_kmh: null },
      { at_km: 10.5, action: 'raise', pantographs: ['1.1'], speed_kmh: null },
      { at_km: 10.7, action: 'speed', pantographs: [], speed_kmh: 100 },
    ],
  },
  section_pictures: [0, 1, 2],
  pictures: [],
} as unknown as PlanAnswer;

test.each([
  [5, ['1.2'], 120, 0],
  [9.85, ['1.2'], 80, 0],
  [9.95, [], 80, 1],
  [10.1, [], 80, 1],
  [10.4, [], 80, 1],
  [10.6, ['1.1'], 80, 2],
  [15, ['1.1'], 100, 2],
])('at km %d what has been ordered is shown, not what the section has', (km, raised, speed_kmh, picture) => {
  expect(orderedAt(answer.plan, km)).toEqual({ raised, speed_kmh });
  expect(pictureAt(answer, km)).toEqual({ index: picture, as_planned: false });
});

test('within a section all orders are done', () => {
  const at = (km: number, index: number) => isBetween(answer.plan.sections[index]!, orderedAt(answer.plan, km)!);
  expect(at(5, 0)).toBe(false);
  expect(at(9.95, 0)).toBe(true);
  expect(at(10.4, 2)).toBe(true);
  expect(at(15, 2)).toBe(false);
});

test('where no section has up what is up in between, the drawing is said to be as planned', () => {
  const plan = { ...answer.plan, sections: answer.plan.sections.filter((one) => one.raised.length > 0) as PlanAnswer['plan']['sections'] };
  expect(pictureAt({ ...answer, plan, section_pictures: [0, 2] }, 9.95)).toEqual({ index: 0, as_planned: true });
});

test('a time is rounded to the minute, as the engine does it', () => {
  expect(timeText(5747.7, 'en')).toBe('1 h 36 min');
  expect(timeText(3599.6, 'en')).toBe('1 h 00 min');
  expect(timeText(130, 'en')).toBe('2 min 10 s');
});

test('times in a column are brief', () => {
  expect(briefTime(46, 'en')).toBe('0.8 min');
  expect(briefTime(-90, 'de')).toBe('1,5 min');
  expect(briefTime(599, 'en')).toBe('10 min');
  expect(briefTime(2610, 'en')).toBe('44 min');
  expect(briefTime(3840, 'en')).toBe('64 min');
});
