import { describe, expect, test } from 'vitest';
import type { LoadItem, TrainModel, VehicleItem, VehicleType } from '../src/engine/answers';
import {
  indexOfPlace, isVehicle, moved, orderOf, placeName, relativePath, removed, resolvedPath, turnedRound, withOrder, withType,
} from '../src/train/consist';

const vehicle = (id: string): VehicleItem => ({
  vehicle: 'k41', id, leading_cab: 1, dead_in_tow: false, defective_pantographs: [], kept_down_pantographs: [], kept_up_pantographs: [], current: [],
});
const load: LoadItem = { load: 'petrol', nature: 'dangerous', length_m: 400 };
const train: TrainModel = {
  id: 't', name: 'T', operated_by: null, invented: true, stock: ['../stock/vehicles.toml'], highest_speed_kmh: null,
  acceleration_ms2: 0.2, braking_ms2: 0.4, consist: [vehicle('A'), vehicle('B'), load, vehicle('C')],
  high_voltage_lines: [{ vehicles: [1, 2], can_be_opened: true }], consents: [], release: null, deviations: [],
};
const order = (of: TrainModel): string => of.consist.map((item) => (isVehicle(item) ? item.id : 'load')).join(' ');

describe('the order of the train', () => {
  test('a vehicle moves and the others close up', () => {
    expect(order(moved(train, 3, 0).train)).toBe('C A B load');
    expect(order(moved(train, 0, 2).train)).toBe('B load A C');
    expect(order(moved(train, 0, 9).train)).toBe('B load C A');
  });
  test('a vehicle knows its place in the file wherever it is moved, and a new one has none', () => {
    const placed: TrainModel = { ...train, read_from: 'x', consist: train.consist.map((item, place) => ({ ...item, place })) };
    const after = turnedRound(withOrder(moved(placed, 3, 0).train, 2, 1, 'defective'), 0);
    const with_new = withType(after, 'trains/t.toml', 1, { stock: 'stock/vehicles.toml', id: 'd1', name: 'Class D1', type: 'locomotive', length_m: 15, highest_speed_kmh: 80, pantographs: [] }, [], []).train;
    expect(with_new.consist.map((item) => item.place)).toEqual([3, undefined, 0, 1, 2]);
    expect(with_new.read_from).toBe('x');
  });
  test('nothing moves to where it stands', () => {
    expect(moved(train, 1, 1).train).toBe(train);
  });
  test('a high-voltage line follows its vehicles', () => {
    const after = moved(train, 3, 0);
    expect(after.train.high_voltage_lines).toEqual([{ vehicles: [2, 3], can_be_opened: true }]);
    expect(after.parted).toEqual([]);
    expect(moved(train, 0, 1).train.high_voltage_lines[0]?.vehicles).toEqual([1, 2]);
  });
  test('a high-voltage line between vehicles that are parted is taken away, and said', () => {
    const after = moved(train, 0, 2);
    expect(after.train.high_voltage_lines).toEqual([]);
    expect(after.parted).toEqual([[1, 2]]);
    expect(removed(train, 1).parted).toEqual([[1, 2]]);
  });
  test('drawings count vehicles and loads apart', () => {
    expect(train.consist.map((_, i) => placeName(train, i))).toEqual(['vehicle 1', 'vehicle 2', 'load 1', 'vehicle 3']);
    expect(indexOfPlace(train, 'vehicle 3')).toBe(3);
    expect(indexOfPlace(train, 'load 2')).toBe(-1);
  });
  test('a load is not turned round', () => {
    expect((turnedRound(train, 0).consist[0] as VehicleItem).leading_cab).toBe(2);
    expect(turnedRound(train, 2)).toBe(train);
  });
});

describe('orders of a pantograph', () => {
  test('one holds at a time', () => {
    const defective = withOrder(train, 2, 1, 'defective');
    expect((defective.consist[1] as VehicleItem).defective_pantographs).toEqual([1]);
    const up = withOrder(defective, 2, 1, 'kept up');
    const item = up.consist[1] as VehicleItem;
    expect(item.defective_pantographs).toEqual([]);
    expect(item.kept_up_pantographs).toEqual([1]);
    expect(orderOf(item, 1)).toBe('kept up');
    expect(orderOf(withOrder(up, 2, 1, 'free').consist[1] as VehicleItem, 1)).toBe('free');
  });
  test('they go to the vehicle of that number, past loads', () => {
    expect((withOrder(train, 3, 2, 'defective').consist[3] as VehicleItem).defective_pantographs).toEqual([2]);
  });
});

describe('what is put in', () => {
  const type: VehicleType = { stock: 'stock/old.toml', id: 'd1', name: 'Class D1', type: 'locomotive', length_m: 15, highest_speed_kmh: 80, pantographs: [] };
  test('brings the stock file it stands in, and the folder’s pantograph types', () => {
    const after = withType(train, 'trains/t.toml', 1, type, ['stock/old.toml', 'stock/vehicles.toml', 'stock/pantographs.toml'], [type, { ...type, stock: 'stock/vehicles.toml' }]);
    expect(after.train.stock).toEqual(['../stock/vehicles.toml', '../stock/old.toml', '../stock/pantographs.toml']);
    expect(order(after.train)).toBe('A Class D1 (1) B load C');
    expect(after.parted).toEqual([[1, 2]]);
  });
  test('wagons are a load', () => {
    const after = withType(train, 'trains/t.toml', 4, { ...type, type: 'wagon group', stock: 'stock/vehicles.toml' }, [], []);
    expect(after.train.consist[4]).toEqual({ load: 'Class D1', nature: 'ordinary', wagons: 'd1' });
  });
  test('paths are relative to the train file', () => {
    expect(relativePath('trains/t.toml', 'stock/v.toml')).toBe('../stock/v.toml');
    expect(relativePath('t.toml', 'stock/v.toml')).toBe('stock/v.toml');
    expect(relativePath('a/b/t.toml', 'a/v.toml')).toBe('../v.toml');
    expect(resolvedPath('trains/t.toml', '../stock/v.toml')).toBe('stock/v.toml');
  });
});
