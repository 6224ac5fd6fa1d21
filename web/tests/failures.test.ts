import { expect, test } from 'vitest';
import type { FailureAnswer, FailureUp, Picture } from '../src/engine/answers';
import { failedTrainAt, failurePlaceAt, saidAt } from '../src/failures/places';

const up = (row: number | null, raised: string[], picture: number): FailureUp => ({ row, answer: 'permitted', raised, picture });
const row = (then: string, failing_here: boolean): FailureAnswer['rows'][number] => ({ where: [], where_words: '', failing_here, then, limits: '', speed_as_planned: false, speed_kmh: 80 });
const picture = (told: string): Picture => ({ width: 1, height: 1, told, marks: [] });

/** 1.2 fails: before departure 1.1 goes up, on the road up to km 10 nothing can. */
const answer: FailureAnswer = {
  failed: '1.2',
  rows: [row('raise 1.1 for 1.2', false), row('the train stands until help comes', true)],
  places: [
    { from_km: 0, to_km: 10, lowered_for: null, failed: up(0, ['1.1'], 0), failing: up(1, [], 1) },
    { from_km: 10, to_km: 20, lowered_for: null, failed: up(0, ['1.1'], 0), failing: null },
    { from_km: 20, to_km: 30, lowered_for: null, failed: up(null, ['2.1'], 2), failing: null },
  ],
  pictures: [picture('1.1 up'), picture('none up'), picture('2.1 up')],
};
const said = (km: number) => saidAt(answer, failurePlaceAt(answer, km)!).map((one) => [one.when, one.row?.then ?? null]);

test('what fails here and what has failed before are told apart where they lead to something else', () => {
  expect(said(5)).toEqual([['it fails here', 'the train stands until help comes'], ['it has failed', 'raise 1.1 for 1.2']]);
  expect(said(15)).toEqual([['either', 'raise 1.1 for 1.2']]);
  expect(said(25)).toEqual([['either', null]]);
});

test('at a border the place counts that begins there', () => {
  expect(said(10)).toEqual(said(15));
  expect(said(30)).toEqual(said(25));
  expect(said(-1)).toEqual(said(5));
});

test('the train is drawn as the pantograph fails here', () => {
  expect([5, 15, 25].map((km) => failedTrainAt(answer, km)?.picture.told)).toEqual(['none up', '1.1 up', '2.1 up']);
  expect(failedTrainAt(answer, 5)?.up.raised).toEqual([]);
  expect(failedTrainAt({ ...answer, places: [] }, 5)).toBeNull();
});
