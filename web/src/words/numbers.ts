import type { Language } from '../engine/answers';

/** A number as the language writes it, with a fixed number of decimals. */
export function numberWords(language: Language): (value: number, decimals?: number) => string {
  const makers = new Map<number, Intl.NumberFormat>();
  return (value, decimals = 0) => {
    let maker = makers.get(decimals);
    if (!maker) {
      maker = new Intl.NumberFormat(language, {
        minimumFractionDigits: decimals,
        maximumFractionDigits: decimals,
        useGrouping: false,
      });
      makers.set(decimals, maker);
    }
    return maker.format(value).replace('-', '−');
  };
}
