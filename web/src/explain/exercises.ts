/** Sets of exercises: the cases of working practice, one exercise for each rule of practice that decides on a
 *  train of the library, the trains of the library, or the open train along its route. Each is planned only
 *  when it is asked for. */
import type { CaseQuestion, Library, PartQuestion, PlanAnswer, PracticeCase, Text, WhyAnswer } from '../engine/answers';
import { askWhy, askWhyOfCase, makePlan, planCase, readCases, readLibraryFile, type Outcome } from '../engine/calls';
import { isRun } from '../run/parts';
import { placesToAsk, rulesOfPractice } from './practice';

export interface Exercise {
  question: PartQuestion | CaseQuestion;
  answer: PlanAnswer;
  /** Index into `answer.plan.sections`. */
  section: number;
  /** The case that it is; of a train nothing. */
  of?: PracticeCase;
}

export type ExerciseSet = 'cases' | 'practice' | 'library' | 'route';
export const exercise_sets: ExerciseSet[] = ['cases', 'practice', 'library', 'route'];

export interface Opened {
  question: PartQuestion;
  answer: PlanAnswer;
}

/** Routes that are tried for a train before it is passed over. */
const most_routes = 8;

/** Reads each file of the library once. */
function reader(): (path: string) => Promise<Text | null> {
  const read = new Map<string, Promise<Text | null>>();
  return (path) => {
    const before = read.get(path);
    if (before) return before;
    const now = readLibraryFile(path).then((outcome) => (outcome.is === 'answer' ? { name: path, text: outcome.answer.text } : null));
    read.set(path, now);
    return now;
  };
}

/** A train as it may run: on the open route or, where it may not, on the first of the library where it may. */
async function plannedTrain(train: Text, ways: Text[], beside: Omit<PartQuestion, 'train' | 'route'>): Promise<Opened | null> {
  for (const route of ways) {
    const { part: _, ...asked } = { ...beside, train, route };
    const plan = await makePlan({ ...asked, speed_from: 'tables' });
    if (plan.is !== 'answer' || isRun(plan.answer) || plan.answer.plan.answer !== 'permitted') continue;
    return { question: { ...beside, train: { name: train.name, text: plan.answer.train_text }, route }, answer: plan.answer };
  }
  return null;
}

async function* trainsOf(library: Library, open: Opened | null, language: PartQuestion['language'], weather: boolean): AsyncGenerator<Opened> {
  const read = reader();
  const paths = (kind: string): string[] => library.files.filter((file) => file.kind === kind).map((file) => file.path);
  const texts = async (list: string[]): Promise<Text[]> => (await Promise.all(list.map(read))).filter((one) => one !== null);
  const rules = open?.question.rules ?? (await texts(paths('rule book').slice(0, 1)));
  const own = open?.question.route;
  const ways = [...(own ? [own] : []), ...(await texts(paths('route').filter((path) => path !== own?.name)))].slice(0, most_routes);
  const conditions: (Text | null)[] = [open?.question.conditions ?? null, ...(weather ? await texts(paths('conditions')) : [])];
  for (const day of conditions) {
    for (const path of paths('train')) {
      const train = await read(path);
      const planned = train && (await plannedTrain(train, ways, { rules, conditions: day, defects: null, run: null, day: null, speed_from: 'tables', language, part: null }));
      if (planned) yield planned;
    }
  }
}

/** Every case, also one in which nothing may be raised: that is an answer too. */
async function* casesOfPractice(language: PartQuestion['language']): AsyncGenerator<Exercise> {
  const read = await readCases();
  if (read.is !== 'answer') return;
  for (const one of read.answer.cases) {
    const question = { case: one.id, language };
    const plan = await planCase(question);
    if (plan.is === 'answer') yield { question, answer: plan.answer, section: 0, of: one };
  }
}

/** What the engine says of an answer to an exercise. */
export const askAbout = ({ question }: Exercise, asked: string[], at_km: number): Promise<Outcome<WhyAnswer>> =>
  'case' in question ? askWhyOfCase({ ...question, asked, at_km }) : askWhy({ ...question, asked, at_km });

export async function* exercisesOf(set: ExerciseSet, library: Library | null, open: Opened | null, language: PartQuestion['language']): AsyncGenerator<Exercise> {
  if (set === 'cases') {
    yield* casesOfPractice(language);
    return;
  }
  if (set === 'route') {
    if (open) for (const section of placesToAsk(open.answer.plan.sections)) yield { ...open, section };
    return;
  }
  if (!library) return;
  const asked = new Set<string>();
  for await (const one of trainsOf(library, open, language, set === 'practice')) {
    const { sections } = one.answer.plan;
    for (const section of placesToAsk(sections)) {
      const rules = sections[section] ? rulesOfPractice(sections[section]) : [];
      if (set === 'practice' && rules.every((rule) => asked.has(rule))) continue;
      rules.forEach((rule) => asked.add(rule));
      yield { ...one, section };
      if (set === 'library') break;
    }
  }
}
