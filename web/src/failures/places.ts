/** What the card says of a failed pantograph at a place. */
import type { FailureAnswer, FailureUp, Picture } from '../engine/answers';

export type FailurePlace = FailureAnswer['places'][number];
export type FailureRow = FailureAnswer['rows'][number];

/** At a border the place that begins there; null where the plan does not look at the failure. */
export const failurePlaceAt = (answer: FailureAnswer, km: number): FailurePlace | null =>
  answer.places.filter((place) => place.from_km <= km + 1e-9).at(-1) ?? answer.places[0] ?? null;

export interface SaidOfFailure {
  when: 'it fails here' | 'it has failed' | 'either';
  /** Null: nothing changes. */
  row: FailureRow | null;
  up: FailureUp;
}

/** All that the card says there: first of a failure here, then of one before. */
export function saidAt(answer: FailureAnswer, place: FailurePlace): SaidOfFailure[] {
  const said = (when: SaidOfFailure['when'], up: FailureUp): SaidOfFailure => ({ when, row: answer.rows[up.row ?? -1] ?? null, up });
  return place.failing ? [said('it fails here', place.failing), said('it has failed', place.failed)] : [said('either', place.failed)];
}

/** The train as it is drawn after the failure: as it fails here. */
export interface FailedTrain {
  failed: string;
  up: FailureUp;
  picture: Picture;
}

export function failedTrainAt(answer: FailureAnswer, km: number): FailedTrain | null {
  const place = failurePlaceAt(answer, km);
  const up = place?.failing ?? place?.failed;
  const picture = up && answer.pictures[up.picture];
  return picture ? { failed: answer.failed, up, picture } : null;
}
