import { expect, test } from 'vitest';
import type { PlanAnswer } from '../src/engine/answers';
import { briefTime, isBetween, orderedAt, pictureAt, speedFigure, timeText } from '../src/state/place';
import { orderedSteps } from '../src/strip/layout';
import { toldSpeed } from '../src/strip/told';
import { wordsOf } from '../src/words/words';

const section = (from_km: number, to_km: number, raised: string[], speed_kmh: number, more: object = {}) => ({
  from_km, to_km, raised, speed_kmh, reversed: false, answer: 'permitted', speed_reason: `of ${from_km}`, ...more,
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
  expect(orderedAt(answer.plan, km)).toMatchObject({ raised, speed_kmh, stopped_km: null });
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

test('a speed is told with the reason of what holds: of the section, or of a lower order', () => {
  const plan = { ...answer.plan, instructions: answer.plan.instructions.map((one) => ({ ...one, text: `order at ${one.at_km}` })) };
  const told = (km: number) => toldSpeed(plan, km, wordsOf('en'), 'en');
  expect(told(5)).toEqual({ speed_kmh: 120, figure: '120', reason: 'of 0' });
  expect(told(9.8)).toEqual({ speed_kmh: 80, figure: '80', reason: 'order at 9.8' });
  expect(told(10)).toEqual({ speed_kmh: 80, figure: '80', reason: 'of 10' });
  expect(told(10.6)).toEqual({ speed_kmh: 80, figure: '80', reason: 'order at 9.8' });
  expect(orderedSteps(plan)).toEqual([
    { from_km: 0, to_km: 9.8, value: 120 },
    { from_km: 9.8, to_km: 10.7, value: 80 },
    { from_km: 10.7, to_km: 20, value: 100 },
  ]);
});

test('an order never lifts the speed of a section', () => {
  const plan = { ...answer.plan, sections: [section(0, 20, ['1.2'], 60)] } as unknown as PlanAnswer['plan'];
  expect(toldSpeed(plan, 15, wordsOf('en'), 'en')).toMatchObject({ speed_kmh: 60, reason: 'of 0' });
});

test('beyond its last stop the train has no speed, whatever the section would permit', () => {
  const plan = {
    ...answer.plan,
    sections: [section(0, 10, ['1.2'], 120), section(10, 12, [], 0, { answer: 'no permitted configuration' }), section(12, 20, ['1.1'], 100)],
    instructions: [...answer.plan.instructions.slice(0, 2), { at_km: 10, action: 'speed', pantographs: [], speed_kmh: 0, text: 'Stop here at the latest.' }],
  } as unknown as PlanAnswer['plan'];
  const told = (km: number) => toldSpeed(plan, km, wordsOf('en'), 'en');
  expect(told(9.9)).toMatchObject({ speed_kmh: 120 });
  expect(told(11)).toEqual({ speed_kmh: 0, figure: '–', reason: 'No pantograph may be up here: the train may not run.' });
  expect(told(15)).toEqual({ speed_kmh: 0, figure: '–', reason: 'The train does not come here: it has to stop at km 10.000.' });
  expect(isBetween(plan.sections[2]!, orderedAt(plan, 15)!)).toBe(false);
  expect(orderedSteps(plan)).toEqual([{ from_km: 0, to_km: 10, value: 120 }, { from_km: 10, to_km: 20, value: 0 }]);
});

test('the figure of a speed is never rounded up', () => {
  expect(speedFigure(62.5, 'de')).toBe('62,5');
  expect(speedFigure(99.96, 'en')).toBe('99.9');
  expect(speedFigure(62.3, 'en')).toBe('62.3');
  expect(speedFigure(120, 'en')).toBe('120');
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
