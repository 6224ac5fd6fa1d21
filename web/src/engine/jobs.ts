// Long computations on this machine: followed while they run, and found again after a reload. The
// server keeps them; the page keeps only their numbers.

import type { DayOutcome, JobState } from './answers';
import type { EnvelopeCell, SpeedCurvePoint } from '../wire/results';

export interface JobListener {
  progress(state: JobState): void;
  cell?(cell: EnvelopeCell): void;
  point?(point: SpeedCurvePoint): void;
  train?(train: DayOutcome): void;
  end(state: JobState): void;
  /** The server no longer knows the job. */
  lost(): void;
}

export function isUnderWay(state: JobState | null): boolean {
  return state !== null && (state.state === 'waiting' || state.state === 'running');
}

/** Follows a job until it ends; the returned function stops following, not the job. */
export function followJob(id: string, listener: JobListener): () => void {
  const source = new EventSource(`/api/jobs/${encodeURIComponent(id)}/events`);
  const data = (event: Event): unknown => JSON.parse((event as MessageEvent<string>).data);
  source.addEventListener('progress', (event) => listener.progress(data(event) as JobState));
  source.addEventListener('cell', (event) => listener.cell?.(data(event) as EnvelopeCell));
  source.addEventListener('point', (event) => listener.point?.(data(event) as SpeedCurvePoint));
  source.addEventListener('train', (event) => listener.train?.(data(event) as DayOutcome));
  source.addEventListener('end', (event) => {
    source.close();
    listener.end(data(event) as JobState);
  });
  source.onerror = () => {
    // A connection that broke is taken up again by the browser itself; one that was refused is not.
    if (source.readyState === EventSource.CLOSED) listener.lost();
  };
  return () => source.close();
}
