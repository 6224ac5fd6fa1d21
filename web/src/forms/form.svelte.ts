/** One file in a form: its text with what has been changed, and what is wrong with it. The engine changes the text and
 *  judges it; what has mistakes stays here, and is handed on when it has none. */
import type { FormAnswer, FormChange, FormField, FormMistake, Text } from '../engine/answers';
import { changeByForm, readForms, type Trouble } from '../engine/calls';
import type { Way } from './forms';

/** Of all kinds of file, asked for once. */
let asked: Promise<Map<string, FormField[]> | null> | null = null;

async function fieldsByKind(): Promise<Map<string, FormField[]> | null> {
  const outcome = await readForms();
  if (outcome.is !== 'answer') return null;
  return new Map(outcome.answer.kinds.map(({ kind, fields }) => [kind, fields]));
}

export interface Beside {
  route: Text | null;
  run: Text | null;
}

export class FormWork {
  fields: FormField[] = $state.raw([]);
  answer: FormAnswer | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  /** Its last changes are not handed on: there are mistakes. */
  pending = $state(false);
  private name = '';
  /** The text that was handed in or on last. */
  private known: string | null = null;
  /** Changes follow each other. */
  private work: Promise<unknown> = Promise.resolve();
  /** Another file, or another text of it, has been opened meanwhile. */
  private turn = 0;

  /** Mistakes of the file itself; others, as of its stock files, are not for a form of it to mend. */
  readonly own_mistakes: FormMistake[] = $derived((this.answer?.mistakes ?? []).filter((one) => one.file === this.name));

  /** Takes up a text, unless it is the one that is being worked on. */
  open(file: Text, beside: Beside): void {
    if (file.name === this.name && file.text === this.known) return;
    this.name = file.name;
    this.known = file.text;
    this.pending = false;
    void this.ask(file.text, [], beside, ++this.turn);
  }

  /** Makes changes; `hand_on` gets the text where nothing is wrong with it. */
  change(changes: FormChange[], beside: Beside, hand_on: (text: string) => void): Promise<unknown> {
    const turn = this.turn;
    this.work = this.work.then(async () => {
      const text = this.answer?.text;
      if (text === undefined || turn !== this.turn) return;
      if (!(await this.ask(text, changes, beside, turn)) || !this.answer) return;
      this.pending = this.own_mistakes.length > 0;
      if (this.pending || this.answer.text === this.known) return;
      this.known = this.answer.text;
      hand_on(this.answer.text);
    });
    return this.work;
  }

  set(at: Way, to: unknown, beside: Beside, hand_on: (text: string) => void): Promise<unknown> {
    return this.change([{ at, to: to ?? null }], beside, hand_on);
  }

  /** Back to the text that was handed on last. */
  drop(beside: Beside): void {
    const text = this.known;
    if (text === null) return;
    this.pending = false;
    void this.ask(text, [], beside, ++this.turn);
  }

  private async ask(text: string, changes: FormChange[], { route, run }: Beside, turn: number): Promise<boolean> {
    asked ??= fieldsByKind();
    const kinds = await asked;
    if (!kinds) asked = null;
    const outcome = await changeByForm({ file: { name: this.name, text }, changes, route, run });
    if (turn !== this.turn) return false;
    if (outcome.is === 'answer') {
      this.trouble = null;
      this.fields = kinds?.get(outcome.answer.kind) ?? [];
      this.answer = outcome.answer;
      return true;
    }
    if (outcome.is === 'trouble') {
      this.trouble = outcome.trouble;
      if (changes.length === 0) this.answer = null;
    }
    return false;
  }
}
