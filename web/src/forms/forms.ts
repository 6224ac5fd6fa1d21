/** What a form shows of a file: its values and mistakes by their way through it. Nothing here knows of the browser. */
import type { FormField, FormMistake } from '../engine/answers';

export type Step = string | number;
/** Keys, and places in lists, from 0. */
export type Way = Step[];

export const isTable = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value);

export function valueAt(values: unknown, way: Way): unknown {
  let value = values;
  for (const step of way) {
    if (typeof step === 'number') value = Array.isArray(value) ? (value as unknown[])[step] : undefined;
    else value = isTable(value) ? value[step] : undefined;
  }
  return value;
}

export const begins = (way: Way, beginning: Way): boolean => beginning.every((step, index) => way[index] === step);
export const same = (a: Way, b: Way): boolean => a.length === b.length && begins(a, b);

/** What is wrong with a value as a whole. */
export const mistakesAt = (mistakes: FormMistake[], way: Way): FormMistake[] => mistakes.filter((one) => one.at.length > 0 && same(one.at, way));
/** What is wrong with a value or with anything in it. */
export const mistakesIn = (mistakes: FormMistake[], way: Way): FormMistake[] => mistakes.filter((one) => one.at.length > 0 && begins(one.at, way));
/** What belongs to no key of the form. */
export const mistakesElsewhere = (mistakes: FormMistake[]): FormMistake[] => mistakes.filter((one) => one.at.length === 0);

/** A number as somebody writes it, with a comma or a point; what is none stays what it is: the engine says so. */
export function numberIn(text: string): number | string {
  const plain = text.trim().replace('−', '-').replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : text.trim();
}

export const numberText = (value: unknown, decimal: string): string =>
  typeof value === 'number' ? String(value).replace('.', decimal) : value == null ? '' : typeof value === 'string' ? value : JSON.stringify(value);

/** What is typed into the field of a key, as it goes into the file; null: the key is taken out. */
export function valueTyped(field: Pick<FormField, 'type'>, typed: string): unknown {
  const text = typed.trim();
  if (text === '') return null;
  switch (field.type) {
    case 'number':
    case 'whole':
      return numberIn(text);
    case 'numbers':
    case 'wholes':
      // A comma with nothing behind it parts numbers; one within a number is its decimal sign.
      return text.split(/[\s;]+|,(?=\s|$)\s*/).filter((one) => one !== '').map(numberIn);
    case 'texts':
      return text.split('\n').map((one) => one.trim()).filter((one) => one !== '');
    default:
      return text;
  }
}

/** How the value of a key stands in its field. */
export function typedOf(field: Pick<FormField, 'type'>, value: unknown, decimal: string): string {
  if (Array.isArray(value)) return value.map((one: unknown) => numberText(one, decimal)).join(field.type === 'texts' ? '\n' : '  ');
  return numberText(value, decimal);
}

/** Of what kind an entry of a list is; empty where there are no kinds. */
export const kindOf = (list: Pick<FormField, 'kinds'>, entry: Record<string, unknown>): string =>
  // The last of those it has: a consent for a rule may have a number by mistake, and no other has a rule.
  list.kinds.filter((kind) => kind in entry).at(-1) ?? list.kinds[0] ?? '';

/** The keys that an entry of that kind may have, and those that it has all the same. */
export const shownFields = (fields: FormField[], kind: string, entry: Record<string, unknown>, in_networks: boolean): FormField[] =>
  fields.filter((field) => field.key in entry || ((field.only_of === '' || kind === '' || field.only_of === kind) && (in_networks || !field.only_in_networks)));

/** What a new entry begins with: the key that says of what kind it is, where another is meant than the first. */
export const newEntry = (list: Pick<FormField, 'kinds'>, kind: string): Record<string, unknown> => (kind !== '' && kind !== list.kinds[0] ? { [kind]: '' } : {});

/** By what an entry is known: its id or name, or where it is. */
export function entryName(entry: Record<string, unknown>, decimal: string): string {
  for (const key of ['name', 'id', 'load', 'reference', 'section', 'vehicle', 'type', 'system', 'what', 'kind']) {
    const value = entry[key];
    if (typeof value === 'string' && value !== '') return key === 'vehicle' && entry.pantograph != null ? `${value} · ${numberText(entry.pantograph, decimal)}` : value;
  }
  const { from_km, to_km, at_km } = entry;
  if (at_km != null) return `km ${numberText(at_km, decimal)}`;
  if (from_km != null || to_km != null) return `km ${numberText(from_km, decimal)} – ${numberText(to_km, decimal)}`;
  return Object.values(entry).filter((value) => typeof value !== 'object').map((value) => numberText(value, decimal)).join(' · ');
}
