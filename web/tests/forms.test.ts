import { describe, expect, it } from 'vitest';
import type { FormField, FormMistake } from '../src/engine/answers';
import { entryName, kindOf, mistakesAt, mistakesElsewhere, mistakesIn, newEntry, numberIn, shownFields, typedOf, valueAt, valueTyped } from '../src/forms/forms';

const field = (key: FormField['key'], more: Partial<FormField> = {}): FormField => ({
  key, type: 'text', required: false, unit: '', range: null, words: [], names_of: '', kinds: [], only_of: '', only_in_networks: false, fields: [], ...more,
});
const mistake = (...at: (string | number)[]): FormMistake => ({ file: 'f', line: 1, column: 1, text: at.join('.'), at });

describe('what is typed', () => {
  it('is a number with a comma or a point, and stays what it is where it is none', () => {
    expect([numberIn('12,5'), numberIn(' -6 '), numberIn('−6'), numberIn('1e-6')]).toEqual([12.5, -6, -6, 1e-6]);
    expect([numberIn('4 m/s'), numberIn('1.000,5'), numberIn('Infinity'), numberIn('0x10')]).toEqual(['4 m/s', '1.000,5', 'Infinity', '0x10']);
  });
  it('takes a key out where the field is empty', () => {
    expect(valueTyped(field('wind_ms', { type: 'number' }), '  ')).toBeNull();
  });
  it('is a list of numbers with a decimal comma or parted by commas', () => {
    expect(valueTyped(field('at_m', { type: 'numbers' }), '5,5 14; 25')).toEqual([5.5, 14, 25]);
    expect(valueTyped(field('at_m', { type: 'wholes' }), '1, 2,')).toEqual([1, 2]);
    expect(valueTyped(field('stock', { type: 'texts' }), 'a, b.toml\n\nc')).toEqual(['a, b.toml', 'c']);
  });
  it('reads back to what it was', () => {
    expect(typedOf(field('at_m', { type: 'numbers' }), [5.5, 14], ',')).toBe('5,5  14');
    expect(valueTyped(field('at_m', { type: 'numbers' }), '5,5  14')).toEqual([5.5, 14]);
    expect(typedOf(field('wind_ms', { type: 'number' }), 'calm', '.')).toBe('calm');
  });
});

describe('mistakes', () => {
  const all = [mistake('ice', 0, 'to_km'), mistake('ice', 1), mistake('wind_ms'), mistake()];
  it('stand at their field, in the entry that they are of, or above the form', () => {
    expect(mistakesAt(all, ['ice', 1])).toEqual([all[1]]);
    expect(mistakesIn(all, ['ice'])).toEqual([all[0], all[1]]);
    expect(mistakesIn(all, ['ice', 0])).toEqual([all[0]]);
    expect(mistakesElsewhere(all)).toEqual([all[3]]);
  });
  it('are not lost: each stands somewhere', () => {
    const shown = [...mistakesIn(all, ['ice']), ...mistakesIn(all, ['wind_ms']), ...mistakesElsewhere(all)];
    expect(new Set(shown)).toEqual(new Set(all));
  });
});

describe('entries of a list', () => {
  const consist = field('consist', { type: 'tables', kinds: ['vehicle', 'load'], fields: [field('vehicle', { only_of: 'vehicle' }), field('load', { only_of: 'load' }), field('id')] });
  it('are of a kind, and show what belongs to it', () => {
    expect(kindOf(consist, { load: 'ore' })).toBe('load');
    expect(kindOf(consist, {})).toBe('vehicle');
    expect(shownFields(consist.fields, 'load', { load: 'ore' }, false).map((one) => one.key)).toEqual(['load', 'id']);
    expect(newEntry(consist, 'vehicle')).toEqual({});
    expect(newEntry(consist, 'load')).toEqual({ load: '' });
  });
  it('show a key of another kind that they have all the same: it has to be taken out by somebody', () => {
    expect(shownFields(consist.fields, 'load', { load: 'ore', vehicle: 'k41' }, false).map((one) => one.key)).toEqual(['vehicle', 'load', 'id']);
  });
  it('show what is said of networks alone only there, or where it stands already', () => {
    const fields = [field('from_km'), field('line', { only_in_networks: true })];
    expect(shownFields(fields, '', {}, false)).toHaveLength(1);
    expect(shownFields(fields, '', {}, true)).toHaveLength(2);
    expect(shownFields(fields, '', { line: '7' }, false)).toHaveLength(2);
  });
  it('are known by a name or by their place', () => {
    expect(entryName({ name: 'Skarn', at_km: 3 }, '.')).toBe('Skarn');
    expect(entryName({ vehicle: 'K41 021', pantograph: 1 }, '.')).toBe('K41 021 · 1');
    expect(entryName({ from_km: 3.5, to_km: 12 }, ',')).toBe('km 3,5 – 12');
    expect(entryName({}, '.')).toBe('');
  });
});

it('a value is found by its way', () => {
  const values = { ice: [{ to_km: 3 }] };
  expect(valueAt(values, ['ice', 0, 'to_km'])).toBe(3);
  expect(valueAt(values, ['ice', 'to_km'])).toBeUndefined();
  expect(valueAt(values, ['wind_ms', 0])).toBeUndefined();
});
