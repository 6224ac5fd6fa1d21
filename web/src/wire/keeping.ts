// What of the wire's part outlives a reload: the cases as set, and the numbers of their jobs. It is
// kept beside the draft it belongs to.

import type { Case, EnvelopeCase } from './case';
import type { EnvelopeRequest, SimulateRequest } from './results';
import type { KeptJob } from './work.svelte';

export interface KeptWire {
  /** True: the case follows the section under the pointer. */
  by_section: boolean;
  chosen: Case | null;
  envelope: EnvelopeCase | null;
  run_job: KeptJob<SimulateRequest> | null;
  envelope_job: KeptJob<EnvelopeRequest> | null;
  /** What the pantographs of the run are called in the train; empty where freely chosen. */
  names: string[];
}

const prefix = 'panup.wire.';
const most_kept = 40;

const empty: KeptWire = {
  by_section: true,
  chosen: null,
  envelope: null,
  run_job: null,
  envelope_job: null,
  names: [],
};

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function jobFrom<R>(value: unknown): KeptJob<R & (SimulateRequest | EnvelopeRequest)> | null {
  return isRecord(value) && typeof value.id === 'string' && isRecord(value.request)
    ? (value as unknown as KeptJob<R & (SimulateRequest | EnvelopeRequest)>)
    : null;
}

/** What was kept, as far as it can be used. */
export function keptWire(shelf: Storage, draft: string): KeptWire {
  try {
    const value: unknown = JSON.parse(shelf.getItem(prefix + draft) ?? 'null');
    if (!isRecord(value)) return empty;
    const chosen = isRecord(value.chosen) && Array.isArray(value.chosen.pantographs);
    const envelope = isRecord(value.envelope) && isRecord(value.envelope.spacings);
    return {
      by_section: value.by_section !== false,
      chosen: chosen ? (value.chosen as unknown as Case) : null,
      envelope: envelope ? (value.envelope as unknown as EnvelopeCase) : null,
      run_job: jobFrom<SimulateRequest>(value.run_job),
      envelope_job: jobFrom<EnvelopeRequest>(value.envelope_job),
      names: Array.isArray(value.names) ? value.names.filter((name) => typeof name === 'string') : [],
    };
  } catch {
    return empty;
  }
}

export function keepWire(shelf: Storage, draft: string, kept: KeptWire): void {
  const keys = Object.keys(shelf).filter((key) => key.startsWith(prefix));
  if (keys.length >= most_kept && !keys.includes(prefix + draft)) {
    for (const key of keys.slice(0, keys.length - most_kept + 1)) shelf.removeItem(key);
  }
  try {
    shelf.setItem(prefix + draft, JSON.stringify(kept));
  } catch {
    // Without room in the browser a reload begins anew; nothing else depends on it.
  }
}
