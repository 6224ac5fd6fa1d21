/** Files from somewhere else: what they would change, and taking them. Nothing is written before. */
import type { LibraryText, TakeInQuestion, TakenIn } from '../engine/answers';
import { takeIn, writeLibraryFile, type Trouble } from '../engine/calls';

/** As much as the engine reads of one file. */
const most_bytes = 8_000_000;

export interface GivenFile {
  name: string;
  text: string;
}

/** What the files do not say, as it stands in the form. */
export interface Stated {
  path: string;
  starts: Record<string, string>;
  no_other_separations: boolean;
  decimal_comma: boolean;
  /** The day of the answers or tables, YYYY-MM-DD; empty: not stated. */
  dated: string;
  acceleration: string;
  braking: string;
  other_load: '' | 'ordinary' | 'sensitive';
  journey_section: string;
  cabs: string;
}

const nothing_stated = (): Stated => ({
  path: '', starts: {}, no_other_separations: false, decimal_comma: false, dated: '', acceleration: '', braking: '', other_load: '', journey_section: '', cabs: '',
});

/** What was written, and what stood there before. */
export interface TakenFile {
  path: string;
  before: LibraryText | null;
  sha256: string;
}

const numberIn = (text: string): number | null => {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) ? null : value;
};

export interface Cab {
  vehicle: string;
  cab: 1 | 2;
}

/** "919900410070=1, 2=2"; of what is none of that, the text. */
export function cabsIn(text: string): Cab[] | string {
  const cabs: Cab[] = [];
  for (const one of text.split(/[,;\s]+/).filter(Boolean)) {
    const parts = /^([0-9-]+)=([12])$/.exec(one);
    if (!parts) return one;
    cabs.push({ vehicle: parts[1]!, cab: parts[2] === '1' ? 1 : 2 });
  }
  return cabs;
}

/** Of a file that is made: when and of what, which is another each time. */
const of_making = /^#( Made at|   SHA-256| As made:)|^(sha256|date|imported) = /;

/** Lines that only one of two texts has, but for those that say when the file was made. */
export function differingLines(before: string, after: string, made: boolean): { out: string[]; into: string[] } {
  const counts = (line: string): boolean => !made || !of_making.test(line);
  const old_lines = new Set(before.split('\n'));
  const new_lines = new Set(after.split('\n'));
  return {
    out: before.split('\n').filter((line) => counts(line) && !new_lines.has(line)),
    into: after.split('\n').filter((line) => counts(line) && !old_lines.has(line)),
  };
}

export class TakeInWork {
  files: GivenFile[] = $state.raw([]);
  stated: Stated = $state(nothing_stated());
  answer: TakenIn | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  waiting = $state(false);
  /** Names of files that could not be read, by why. */
  too_large: string | null = $state(null);
  not_utf8: string | null = $state(null);
  wrong_cab: string | null = $state(null);
  taken: TakenFile[] = $state.raw([]);
  /** A file that was opened in the page and not written. */
  opened: string | null = $state(null);
  undone: TakenFile[] = $state.raw([]);
  /** Of several trains of one message those that are left, by their section of the journey. */
  left: ReadonlySet<number> = $state.raw(new Set<number>());
  private asked = 0;

  get open(): boolean {
    return this.files.length > 0 || this.too_large !== null || this.not_utf8 !== null;
  }

  /** What is missing may come after: then it belongs to what is there. */
  async give(given: Iterable<File>): Promise<void> {
    const more: GivenFile[] = [];
    const before = this.answer ? [] : this.files;
    if (before.length === 0) this.leave();
    this.taken = this.undone = [];
    this.too_large = this.not_utf8 = this.opened = null;
    for (const file of given) {
      if (file.size > most_bytes) {
        this.too_large = file.name;
        return;
      }
      try {
        more.push({ name: file.name, text: new TextDecoder('utf-8', { fatal: true }).decode(await file.arrayBuffer()) });
      } catch {
        this.not_utf8 = file.name;
        return;
      }
    }
    this.files = [...before.filter((one) => !more.some((other) => other.name === one.name)), ...more];
    await this.ask();
  }

  private question(): TakeInQuestion | null {
    const stated = this.stated;
    const cabs = cabsIn(stated.cabs);
    this.wrong_cab = typeof cabs === 'string' ? cabs : null;
    if (typeof cabs === 'string') return null;
    return {
      files: this.files,
      path: stated.path.trim() || null,
      starts: Object.entries(stated.starts).flatMap(([line, text]) => {
        const km = numberIn(text);
        return km === null ? [] : [{ line, km }];
      }),
      no_other_separations: stated.no_other_separations,
      decimal_comma: stated.decimal_comma,
      dated: stated.dated.trim() || null,
      acceleration_ms2: numberIn(stated.acceleration),
      braking_ms2: numberIn(stated.braking),
      other_load: stated.other_load || null,
      journey_section: numberIn(stated.journey_section),
      cabs,
    };
  }

  async ask(): Promise<void> {
    const question = this.question();
    if (!question || this.files.length === 0) return;
    const mine = ++this.asked;
    this.waiting = true;
    const outcome = await takeIn(question);
    if (mine !== this.asked) return;
    this.waiting = false;
    this.answer = outcome.is === 'answer' ? outcome.answer : null;
    this.trouble = outcome.is === 'trouble' ? outcome.trouble : null;
    if (this.answer && this.answer.trains.length === 0 && !this.stated.path) this.stated.path = this.answer.path;
  }

  leave(): void {
    this.asked += 1;
    this.files = [];
    this.stated = nothing_stated();
    this.answer = this.trouble = null;
    this.left = new Set();
    this.waiting = false;
    this.too_large = this.not_utf8 = this.wrong_cab = null;
  }

  /** Takes one of several trains, or leaves it. */
  choose(journey_section: number, is_taken: boolean): void {
    const left = new Set(this.left);
    if (is_taken) left.delete(journey_section);
    else left.add(journey_section);
    this.left = left;
  }

  /** What would be written. */
  get chosen(): { path: string; text: string; there: LibraryText | null }[] {
    const answer = this.answer;
    if (!answer) return [];
    if (answer.trains.length === 0) return [answer];
    return answer.trains.flatMap(({ journey_section, path, text, there }) => (text === null || this.left.has(journey_section) ? [] : [{ path, text, there }]));
  }

  /** Writes them, all or none; what stood there may be put back. */
  async take(): Promise<boolean> {
    const taken: TakenFile[] = [];
    for (const { path, text, there } of this.chosen) {
      const outcome = await writeLibraryFile(path, text, there?.sha256 ?? null);
      if (outcome.is !== 'answer' || outcome.answer.sha256 === null) {
        await putBack(taken);
        this.trouble = outcome.is === 'trouble' ? outcome.trouble : this.trouble;
        return false;
      }
      taken.push({ path, before: there, sha256: outcome.answer.sha256 });
    }
    if (taken.length === 0) return false;
    this.leave();
    this.taken = taken;
    return true;
  }

  async undo(): Promise<boolean> {
    const { done, trouble } = await putBack(this.taken);
    this.taken = this.taken.filter((one) => !done.includes(one));
    this.undone = done;
    if (trouble) this.trouble = trouble;
    return done.length > 0;
  }
}

/** Puts back what stood there, the last first, as far as that can be done. */
async function putBack(taken: TakenFile[]): Promise<{ done: TakenFile[]; trouble: Trouble | null }> {
  const done: TakenFile[] = [];
  for (const one of [...taken].reverse()) {
    const outcome = await writeLibraryFile(one.path, one.before?.text ?? null, one.sha256);
    if (outcome.is === 'trouble') return { done, trouble: outcome.trouble };
    done.push(one);
  }
  return { done, trouble: null };
}
