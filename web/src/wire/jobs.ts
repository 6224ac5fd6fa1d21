// Long computations on this machine: started, followed, stopped and found again. The server keeps
// them; the page keeps only their numbers.

import type { EnvelopeCell, EnvelopeRequest, SimulateRequest } from './results';

export type JobStage = 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';

export interface JobState {
  id: string;
  kind: string;
  state: JobStage;
  done: number;
  expected: number;
  error?: string;
}

export interface Refusal {
  error: string;
  diagnostics: { file: string; line: number; column: number; text: string }[];
}

export type Answer<T> = { ok: true; value: T } | { ok: false; status: number; refusal: Refusal };

/** `status` 0: the program on this machine does not answer. */
async function ask<T>(path: string, init?: RequestInit): Promise<Answer<T>> {
  let response: Response;
  try {
    response = await fetch(path, init);
  } catch {
    return { ok: false, status: 0, refusal: { error: '', diagnostics: [] } };
  }
  if (response.status === 204) {
    return { ok: true, value: undefined as T };
  }
  const body: unknown = await response.json().catch(() => null);
  if (response.ok && body !== null) {
    return { ok: true, value: body as T };
  }
  const refusal = (body ?? {}) as Partial<Refusal>;
  return {
    ok: false,
    status: response.status,
    refusal: {
      error: refusal.error ?? `${response.status} ${response.statusText}`,
      diagnostics: refusal.diagnostics ?? [],
    },
  };
}

export function startJob(request: SimulateRequest | EnvelopeRequest): Promise<Answer<{ id: string }>> {
  return ask('/api/jobs', {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(request),
  });
}

export function jobs(): Promise<Answer<{ jobs: JobState[] }>> {
  return ask('/api/jobs');
}

export function job<T>(id: string): Promise<Answer<JobState & { result?: T }>> {
  return ask(`/api/jobs/${encodeURIComponent(id)}`);
}

/** Cancels a running job; a finished one is forgotten. */
export function dropJob(id: string): Promise<Answer<void>> {
  return ask(`/api/jobs/${encodeURIComponent(id)}`, { method: 'DELETE' });
}

export interface JobListener {
  progress(state: JobState): void;
  cell?(cell: EnvelopeCell): void;
  end(state: JobState): void;
  /** The server no longer knows the job, or does not answer. */
  lost(): void;
}

/** Follows a job until it ends; the returned function stops following, not the job. */
export function followJob(id: string, listener: JobListener): () => void {
  const source = new EventSource(`/api/jobs/${encodeURIComponent(id)}/events`);
  const data = (event: Event) => JSON.parse((event as MessageEvent<string>).data) as unknown;
  source.addEventListener('progress', (event) => listener.progress(data(event) as JobState));
  source.addEventListener('cell', (event) => listener.cell?.(data(event) as EnvelopeCell));
  source.addEventListener('end', (event) => {
    source.close();
    listener.end(data(event) as JobState);
  });
  source.onerror = () => {
    // A connection that broke is taken up again by the browser itself; one that was refused is not.
    if (source.readyState === EventSource.CLOSED) {
      listener.lost();
    }
  };
  return () => source.close();
}
