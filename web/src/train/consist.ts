/** Changes to a train that a user makes with the hand. Each returns another train; vehicles are
 *  counted over vehicles from the front, from 1, as in the train file. */
import type { ConsistItem, LoadItem, LoadNature, TrainModel, VehicleItem, VehicleType } from '../engine/answers';

export const isVehicle = (item: ConsistItem): item is VehicleItem => 'vehicle' in item;

/** What a user says of one pantograph. */
export type PantographOrder = 'free' | 'defective' | 'kept down' | 'kept up';
export const pantograph_orders: PantographOrder[] = ['free', 'defective', 'kept down', 'kept up'];

/** Index into the consist of vehicle `number`; -1 where there is none. */
export function vehicleIndex(train: TrainModel, number: number): number {
  let count = 0;
  return train.consist.findIndex((item) => isVehicle(item) && ++count === number);
}

/** Number of the vehicle, or of the load, at an index of the consist. */
export function numberAt(train: TrainModel, index: number): number {
  const item = train.consist[index];
  if (!item) return 0;
  return train.consist.slice(0, index + 1).filter((other) => isVehicle(other) === isVehicle(item)).length;
}

/** "vehicle 1", "load 2": how drawings name the item. */
export function placeName(train: TrainModel, index: number): string {
  const item = train.consist[index];
  return item ? `${isVehicle(item) ? 'vehicle' : 'load'} ${numberAt(train, index)}` : '';
}

/** The inverse of `placeName`; -1 where nothing is called that. */
export const indexOfPlace = (train: TrainModel, name: string): number =>
  train.consist.findIndex((_, index) => placeName(train, index) === name);

export interface Changed {
  train: TrainModel;
  /** High-voltage lines that no longer join vehicles that follow each other, by their vehicles'
   *  numbers before the change: they were taken away. */
  parted: number[][];
}

/** The train with another consist. High-voltage lines follow their vehicles. */
function withConsist(train: TrainModel, consist: ConsistItem[]): Changed {
  const number_after = new Map<ConsistItem, number>();
  for (const item of consist) {
    if (isVehicle(item)) number_after.set(item, number_after.size + 1);
  }
  const before = train.consist.filter(isVehicle);
  const parted: number[][] = [];
  const lines = train.high_voltage_lines.flatMap((line) => {
    const after = line.vehicles
      .map((number) => {
        const vehicle = before[number - 1];
        return vehicle ? number_after.get(vehicle) : undefined;
      })
      .sort((a, b) => (a ?? 0) - (b ?? 0));
    const places = after.map((number) => consist.findIndex((item) => number_after.get(item) === number));
    const joined = after.every((number) => number !== undefined) && places.every((place, i) => i === 0 || place === (places[i - 1] ?? 0) + 1);
    if (!joined) {
      parted.push(line.vehicles);
      return [];
    }
    return [{ ...line, vehicles: after.filter((number) => number !== undefined) }];
  });
  return { train: { ...train, consist, high_voltage_lines: lines }, parted };
}

/** Moves an item so that it stands at index `to` afterwards. */
export function moved(train: TrainModel, from: number, to: number): Changed {
  const item = train.consist[from];
  if (!item) return { train, parted: [] };
  const rest = train.consist.filter((_, index) => index !== from);
  const at = Math.max(0, Math.min(to, rest.length));
  if (at === from) return { train, parted: [] };
  return withConsist(train, [...rest.slice(0, at), item, ...rest.slice(at)]);
}

export const removed = (train: TrainModel, index: number): Changed =>
  withConsist(train, train.consist.filter((_, other) => other !== index));

export function inserted(train: TrainModel, at: number, item: ConsistItem): Changed {
  return withConsist(train, [...train.consist.slice(0, at), item, ...train.consist.slice(at)]);
}

function withItem(train: TrainModel, index: number, change: (item: ConsistItem) => ConsistItem): TrainModel {
  return { ...train, consist: train.consist.map((item, i) => (i === index ? change(item) : item)) };
}

export const withVehicle = (train: TrainModel, index: number, change: Partial<VehicleItem>): TrainModel =>
  withItem(train, index, (item) => (isVehicle(item) ? { ...item, ...change } : item));

export const withLoad = (train: TrainModel, index: number, change: Partial<LoadItem>): TrainModel =>
  withItem(train, index, (item) => (isVehicle(item) ? item : { ...item, ...change }));

export function turnedRound(train: TrainModel, index: number): TrainModel {
  const item = train.consist[index];
  return item && isVehicle(item) ? withVehicle(train, index, { leading_cab: item.leading_cab === 1 ? 2 : 1 }) : train;
}

export const ofNature = (train: TrainModel, index: number, nature: LoadNature): TrainModel =>
  withLoad(train, index, { nature });

export function orderOf(item: VehicleItem, pantograph: number): PantographOrder {
  if (item.defective_pantographs.includes(pantograph)) return 'defective';
  if (item.kept_down_pantographs.includes(pantograph)) return 'kept down';
  if (item.kept_up_pantographs.includes(pantograph)) return 'kept up';
  return 'free';
}

export function withOrder(train: TrainModel, vehicle: number, pantograph: number, order: PantographOrder): TrainModel {
  const index = vehicleIndex(train, vehicle);
  return withItem(train, index, (item) => {
    if (!isVehicle(item)) return item;
    const without = (list: number[]): number[] => list.filter((number) => number !== pantograph);
    const list = (of: PantographOrder, before: number[]): number[] =>
      order === of ? [...without(before), pantograph].sort((a, b) => a - b) : without(before);
    return {
      ...item,
      defective_pantographs: list('defective', item.defective_pantographs),
      kept_down_pantographs: list('kept down', item.kept_down_pantographs),
      kept_up_pantographs: list('kept up', item.kept_up_pantographs),
    };
  });
}

/** "1.2" as vehicle 1 and pantograph 2. */
export function refFrom(name: string): { vehicle: number; pantograph: number } | null {
  const match = /^(\d+)\.(\d+)$/.exec(name);
  return match ? { vehicle: Number(match[1]), pantograph: Number(match[2]) } : null;
}

/** `path` as seen from the folder of the file `from`; both relative to the same folder. */
export function relativePath(from: string, path: string): string {
  const base = from.split('/').slice(0, -1);
  const target = path.split('/');
  let same = 0;
  while (same < base.length && same < target.length - 1 && base[same] === target[same]) ++same;
  return [...base.slice(same).map(() => '..'), ...target.slice(same)].join('/');
}

/** A path relative to the file `from`, as one relative to the library folder. */
export function resolvedPath(from: string, path: string): string {
  const parts = from.split('/').slice(0, -1);
  for (const part of path.split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '.') parts.push(part);
  }
  return parts.join('/');
}

/** The train with a stock file among those it names. Its folder's files that hold no vehicle types
 *  come along: the pantograph types stand there. */
function withStock(train: TrainModel, name: string, stock: string, all: string[], types: VehicleType[]): TrainModel {
  const known = new Set(train.stock.map((path) => resolvedPath(name, path)));
  if (known.has(stock)) return train;
  const folder = stock.split('/').slice(0, -1).join('/');
  const wanted = all.filter((path) => path === stock || (path.split('/').slice(0, -1).join('/') === folder && !types.some((type) => type.stock === path)));
  const more = wanted.filter((path) => !known.has(path)).map((path) => relativePath(name, path));
  return { ...train, stock: [...train.stock, ...more] };
}

/** A vehicle of a type as it is put in: cab 1 leads, nothing is wrong with it. */
export const newVehicle = (type: string, id: string): VehicleItem => ({
  vehicle: type,
  id,
  leading_cab: 1,
  dead_in_tow: false,
  defective_pantographs: [],
  kept_down_pantographs: [],
  kept_up_pantographs: [],
  current: [],
});

/** A vehicle of a type, or a load in wagons of a type, put in at an index. */
export function withType(
  train: TrainModel,
  name: string,
  at: number,
  type: VehicleType,
  stock_files: string[],
  types: VehicleType[],
): Changed {
  const stocked = withStock(train, name, type.stock, stock_files, types);
  if (type.type === 'wagon group') {
    return inserted(stocked, at, { load: type.name, nature: 'ordinary', wagons: type.id });
  }
  const numbers = train.consist.filter(isVehicle).map((item) => item.id);
  let count = 1;
  while (numbers.includes(`${type.name} (${count})`)) ++count;
  return inserted(stocked, at, newVehicle(type.id, `${type.name} (${count})`));
}
