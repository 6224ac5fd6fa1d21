import { describe, expect, test } from 'vitest';
import { isFoundIn, searched } from '../src/look/search';

describe('search in a list', () => {
  const trains = ['Petrol to Port Selmo', 'Heavy petrol to Tarnholt', 'Öl nach Süden', 'Containers'];
  const found = (query: string): string[] => searched(trains, query, (one) => one);
  test('finds what holds every word, in any order and any case', () => {
    expect(found('PETROL tarn')).toEqual(['Heavy petrol to Tarnholt']);
    expect(found('selmo pet')).toEqual(['Petrol to Port Selmo']);
    expect(found('petrol')).toHaveLength(2);
    expect(found('petrol bananas')).toEqual([]);
  });
  test('does not mind accents', () => {
    expect(found('ol sud')).toEqual(['Öl nach Süden']);
    expect(found('ÖL NACH')).toEqual(['Öl nach Süden']);
  });
  test('says of a text whether it holds what was typed', () => {
    expect(isFoundIn('Öl nach Süden', 'sud OL')).toBe(true);
    expect(isFoundIn('Öl nach Süden', 'sud norden')).toBe(false);
    expect(isFoundIn('', ' ')).toBe(true);
  });
  test('with nothing typed all are there, in their order', () => {
    expect(found('  ')).toEqual(trains);
  });
});
