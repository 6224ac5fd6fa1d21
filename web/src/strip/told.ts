/** How fast the train runs at a place, and why, in words. */
import type { Language, Plan } from '../engine/answers';
import { kmText, orderedAt, speedFigure } from '../state/place';
import type { Words } from '../words/words';

export interface ToldSpeed {
  /** 0 where the train may not run. */
  speed_kmh: number;
  /** A dash where the train may not run. */
  figure: string;
  reason: string;
}

export function toldSpeed(plan: Plan, km: number, words: Words, language: Language): ToldSpeed {
  const ordered = orderedAt(plan, km);
  const speed_kmh = ordered?.speed_kmh ?? 0;
  const reason =
    ordered?.stopped_km != null ? words.not_reached(kmText(ordered.stopped_km, language)) : speed_kmh > 0 ? (ordered?.speed_reason ?? '') : words.of_explain.nothing_permitted;
  return { speed_kmh, figure: speed_kmh > 0 ? speedFigure(speed_kmh, language) : '–', reason };
}
