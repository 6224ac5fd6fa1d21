/** How each open text stands to the library, where components see it. */
import { openTexts, sha256Of, standingOf, type Standing } from './standing';
import type { State } from './state';

export class Standings {
  private by_name: Record<string, Standing> = $state.raw({});
  private readonly sums = new Map<string, string>();
  private looks = 0;

  of(name: string | undefined): Standing {
    return (name !== undefined && this.by_name[name]) || 'saved';
  }

  /** Of nothing that is open. */
  readonly changed: boolean = $derived(Object.values(this.by_name).some((one) => one !== 'saved'));

  async look({ document, held }: Pick<State, 'document' | 'held'>): Promise<void> {
    const mine = ++this.looks;
    const texts = openTexts(document);
    const found: [string, Standing][] = [];
    for (const { name, text } of texts) {
      const sum = text === null ? null : (this.sums.get(text) ?? (await sha256Of(text)));
      if (text !== null && sum !== null) this.sums.set(text, sum);
      found.push([name, standingOf(sum, held[name] ?? null)]);
    }
    // It may have been changed meanwhile.
    if (mine !== this.looks) return;
    // Sums of what is open no more are of no use.
    for (const text of this.sums.keys()) if (!texts.some((one) => one.text === text)) this.sums.delete(text);
    this.by_name = Object.fromEntries(found);
  }
}
