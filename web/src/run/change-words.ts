import { listed, type Words } from '../words/words';
import type { EndChange } from './parts';

/** "K41 007 leaves, M62 104 comes". */
export const changeWords = (changes: EndChange[], words: Words): string =>
  changes.map(({ what, who }) => words.of_run.change[what](listed(words, who), who.length)).join(', ') || words.of_run.otherwise;
