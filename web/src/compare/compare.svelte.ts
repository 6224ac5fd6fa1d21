/** The plan beside the one on view: in other weather, without consents, as the library has the train, or one
 *  that was handed out earlier. */
import type { PartQuestion, Plan, TrainModel } from '../engine/answers';
import { latestOnly, makePlan, readLibraryFile } from '../engine/calls';
import { openPart, partWithin } from '../run/parts';

export type Choice =
  | { of: 'nothing' }
  /** An empty path: none stated. */
  | { of: 'conditions'; path: string }
  | { of: 'no consents' }
  | { of: 'library' }
  | { of: 'plan'; label: string; plan: Plan };

export class CompareWork {
  choice: Choice = $state.raw({ of: 'nothing' });
  other: Plan | null = $state.raw(null);
  trouble = $state('');
  private readonly latest = latestOnly();

  choose(choice: Choice): void {
    this.choice = choice;
  }

  /** A plan beside another question would mislead: it is gone at once. */
  async ask(question: PartQuestion | null, model: TrainModel | null): Promise<void> {
    const { choice } = this;
    this.other = null;
    this.trouble = '';
    const outcome = await this.latest(async (signal) => {
      if (!question || choice.of === 'nothing' || choice.of === 'plan') return { is: 'stale' as const };
      const { part, ...asked } = question;
      const base = { ...asked, speed_from: 'tables' as const };
      const path = choice.of === 'conditions' ? choice.path : choice.of === 'library' ? asked.train.name : '';
      const file = path === '' ? null : await readLibraryFile(path);
      if (file && file.is !== 'answer') return file;
      const text = file && { name: path, text: file.answer.text };
      const beside =
        choice.of === 'conditions' ? { ...base, conditions: text }
        : choice.of === 'library' && text ? { ...base, train: text }
        : choice.of === 'no consents' && model ? { ...base, train: { name: asked.train.name, model: { ...model, consents: [] } } }
        : base;
      const plan = await makePlan(beside, signal);
      return plan.is === 'answer' ? { is: 'answer' as const, answer: openPart(plan.answer, partWithin(plan.answer, part ?? 1)).plan } : plan;
    });
    if (choice.of === 'plan' && question) this.other = choice.plan;
    else if (outcome.is === 'answer') this.other = outcome.answer;
    else if (outcome.is === 'trouble') this.trouble = outcome.trouble.error;
  }
}
