/** Where things stand in the drawing of the train, and where a dragged one would go. */
import type { Picture, TrainModel } from '../engine/answers';
import { indexOfPlace } from './consist';

export interface ItemPlace {
  /** Index into the consist. */
  index: number;
  name: string;
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Vehicles and loads in the order they are drawn, from the left. */
export function itemPlaces(picture: Picture, train: TrainModel): ItemPlace[] {
  return (picture.places ?? [])
    .map(({ of, ...box }) => ({ ...box, name: of, index: indexOfPlace(train, of) }))
    .filter((place) => place.index >= 0)
    .sort((a, b) => a.x - b.x);
}

export interface PantographPlace {
  /** `V.P`. */
  name: string;
  x: number;
  y: number;
  width: number;
  height: number;
}

export function pantographPlaces(picture: Picture): PantographPlace[] {
  return (picture.places ?? []).flatMap(({ of, ...box }) => {
    const match = /^pantograph (\d+\.\d+)$/.exec(of);
    return match?.[1] ? [{ ...box, name: match[1] }] : [];
  });
}

/** Whether the train is drawn with its rear at departure at the left, as after a reversal. */
export const drawnReversed = (places: ItemPlace[]): boolean =>
  places.length > 1 && (places[0]?.index ?? 0) > (places.at(-1)?.index ?? 0);

/** The gap nearest to `x`, counted from the left: 0 before the first item drawn. */
export function gapAt(places: ItemPlace[], x: number): number {
  return places.filter((place) => place.x + place.width / 2 < x).length;
}

/** Where an item of the consist stands after it was dropped into a gap. */
export function indexAfterDrop(places: ItemPlace[], from: number, gap: number): number {
  const reversed = drawnReversed(places);
  const gap_from_front = reversed ? places.length - gap : gap;
  return gap_from_front > from ? gap_from_front - 1 : gap_from_front;
}

/** x of a gap. */
export function gapX(places: ItemPlace[], gap: number): number {
  const before = places[gap - 1];
  const after = places[gap];
  if (before && after) return (before.x + before.width + after.x) / 2;
  if (after) return after.x - 2;
  return before ? before.x + before.width + 2 : 0;
}
