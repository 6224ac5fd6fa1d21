/** What the page shows when it is opened for the first time. */
import type { Language, Library, LibraryText, PlanAnswer } from '../engine/answers';
import { makePlan, readLibraryFile } from '../engine/calls';
import { isRun } from '../run/parts';
import type { PageDocument } from './state';

export interface Opening {
  document: PageDocument;
  held: Record<string, string>;
  answer: PlanAnswer;
}

async function opened(path: string): Promise<LibraryText | null> {
  const outcome = await readLibraryFile(path);
  return outcome.is === 'answer' ? outcome.answer : null;
}

/** The library's first train on the first route where it may run as it stands, with the first rule
 *  book; where there is no such route, on the first that can be planned. */
export async function openingOf(
  library: Library,
  language: Language,
): Promise<Opening | null> {
  const first = (kind: string): string | undefined =>
    library.files.find((file) => file.kind === kind)?.path;
  const train_path = first('train');
  const rule_path = first('rule book');
  const train = train_path ? await opened(train_path) : null;
  if (!train) return null;
  const rule = rule_path ? await opened(rule_path) : null;
  const rules = rule ? [{ name: rule.path, text: rule.text }] : [];
  const held: Record<string, string> = { [train.path]: train.sha256 };
  if (rule) held[rule.path] = rule.sha256;
  let best: Opening | null = null;
  for (const file of library.files.filter((each) => each.kind === 'route').slice(0, 12)) {
    const route = await opened(file.path);
    if (!route) continue;
    const text = { name: route.path, text: route.text };
    const plan = await makePlan({
      train: { name: train.path, text: train.text },
      route: text,
      run: null,
      conditions: null,
      defects: null,
      rules,
      day: null,
      speed_from: 'tables',
      language,
    });
    if (plan.is !== 'answer' || isRun(plan.answer)) continue;
    const opening = {
      document: {
        train: { name: train.path, text: train.text, model: plan.answer.train },
        route: text,
        run: null,
        conditions: null,
        defects: null,
        rules,
        of_day: null,
        speed_from: 'tables' as const,
      },
      held: { ...held, [route.path]: route.sha256 },
      answer: plan.answer,
    };
    if (plan.answer.plan.answer === 'permitted') return opening;
    best ??= opening;
  }
  return best;
}
