// What axe finds wrong on a page.
import { readFileSync } from 'node:fs';
import { packages } from './story.mjs';

const axe = readFileSync(packages.resolve('axe-core/axe.min.js'), 'utf8');

/** `asked`: tags of axe's rules, or names of rules; all that hold for everybody if it is left out. */
export async function faults(page, asked = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']) {
  // Handed to the page by the test; the page itself loads nothing of it.
  await page.evaluate(axe);
  return page.evaluate(async (runOnly) => {
    const found = await globalThis.axe.run(document, { runOnly });
    return found.violations.flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(' ')}: ${node.failureSummary?.split('\n')[1]?.trim()}`));
  }, asked);
}
