// Follows a pantograph that is drawn along: asks for the speed where it stands, and calls off what
// was asked for where it stood before. What has come is kept by the case that it belongs to.

import { SvelteMap } from 'svelte/reactivity';
import type { Language } from '../engine/answers';
import { endJob, startJob, type Trouble } from '../engine/calls';
import type { Case } from './case';
import { followJob } from '../engine/jobs';
import type { SpeedCurvePoint } from './results';
import { curveKey, speedCurveRequest, unknownNear, withPoint } from './speed-curve';

export interface Standing {
  chosen: Case;
  /** The pantograph that is drawn, counted from 0. */
  drawn: number;
  distance_m: number;
  /** The greatest distance of the drawing. */
  to_m: number;
  up_to_kmh: number;
}

const nothing: ReadonlyMap<number, SpeedCurvePoint> = new Map();

export class SpeedCurveWork {
  trouble: Trouble | null = $state.raw(null);
  under_way = $state(false);

  /** What has come in one language, by the case that it belongs to: see `curveKey`. */
  readonly curves = new SvelteMap<string, ReadonlyMap<number, SpeedCurvePoint>>();
  private said_in: Language | null = null;
  private wanted: Standing | null = null;
  private last: Standing | null = null;
  private asking = false;
  private job: string | null = null;
  private unfollow: (() => void) | null = null;

  constructor(private readonly language: () => Language) {}

  known(chosen: Case, drawn: number, up_to_kmh: number): ReadonlyMap<number, SpeedCurvePoint> {
    return this.curves.get(curveKey(chosen, drawn, up_to_kmh)) ?? nothing;
  }

  /** Only the last place is asked about, however many come in between. */
  stand(at: Standing): void {
    this.wanted = at;
    this.last = at;
    if (!this.asking) void this.ask();
  }

  /** Forgets what was said in another language than the page is in, and asks again. */
  speak(): void {
    if (this.said_in === null || this.said_in === this.language()) return;
    this.curves.clear();
    this.said_in = null;
    if (this.last) this.stand(this.last);
  }

  close(): void {
    this.wanted = null;
    this.last = null;
    this.leave();
  }

  private leave(): void {
    this.unfollow?.();
    this.unfollow = null;
    if (this.job !== null) void endJob(this.job);
    this.job = null;
    this.under_way = false;
  }

  private async ask(): Promise<void> {
    this.asking = true;
    while (this.wanted) {
      const at = this.wanted;
      this.wanted = null;
      this.leave();
      await this.start(at);
    }
    this.asking = false;
  }

  private async start(at: Standing): Promise<void> {
    const key = curveKey(at.chosen, at.drawn, at.up_to_kmh);
    const known = this.curves.get(key) ?? nothing;
    const there = known.get(at.distance_m);
    // First where it stands; once that is known, what is around it.
    const others = there && !there.at_first_sight ? unknownNear(known, at.distance_m, at.to_m) : [];
    if (there && !there.at_first_sight && others.length === 0) return;
    const language = this.language();
    this.said_in = language;
    const asked = speedCurveRequest(at.chosen, at.drawn, at.distance_m, others, at.up_to_kmh);
    const outcome = await startJob({ ...asked, language });
    this.trouble = outcome.is === 'trouble' ? outcome.trouble : null;
    if (outcome.is !== 'answer') return;
    const id = outcome.answer.id;
    this.job = id;
    this.under_way = true;
    this.unfollow = followJob(id, {
      progress: () => undefined,
      point: (point) => {
        if (this.said_in !== language) return;
        this.curves.set(key, withPoint(this.curves.get(key) ?? nothing, point));
      },
      end: (state) => {
        if (this.job !== id) return;
        this.job = null;
        this.under_way = false;
        if (state.state === 'done') this.stand(at);
      },
      lost: () => {
        if (this.job !== id) return;
        this.job = null;
        this.under_way = false;
      },
    });
  }
}
