// Practice for trainees: a train at a place with nothing raised, an answer, what the engine says of it and
// what was missed; and a result sheet on paper.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { choose, open, part } from '../user.mjs';

await story('practice', async ({ page, address, picture, library }) => {
  await open(page, address);
  await choose(page, 'train', 'trains/t12-petrol-double.toml');
  await part(page, 'Explain');
  const view = page.locator('.explain');
  await view.getByRole('button', { name: 'Practise' }).click();
  await view.getByRole('button', { name: 'This train along its route' }).click();
  const answered = async (...names) => {
    for (const name of names) await view.getByRole('button', { name: new RegExp(`^${name.replace('.', '\\.')} `) }).click();
    const told = page.waitForResponse((response) => /\/(api|practice)\/why$/.test(response.url()));
    await view.getByRole('button', { name: 'Answer' }).click();
    return (await told).json();
  };
  await view.getByText('What is up here?').waitFor();
  assert.ok(!/Missed|The plan:/.test(await view.textContent()), 'the answer is given away');
  await picture(page, 'practice-asked');

  // Two right halves: the engine's words, what was missed, and why.
  const first = await answered('1.1', '2.1');
  assert.deepEqual([first.asked, first.planned, first.answer], [['1.1', '2.1'], ['1.1', '2.2'], 'permitted']);
  await view.getByText('permitted, but the plan has something better').waitFor();
  const judged = await view.locator('.judged').textContent();
  for (const words of ['Missed: 2.2 up.', 'Too many: 2.1 stays down.', first.summary]) assert.ok(judged.includes(words), judged);
  for (const { because } of first.findings.filter((one) => one.because)) assert.ok((await view.textContent()).includes(because));
  assert.deepEqual(await faults(page), []);
  await picture(page, 'practice-judged');

  // The train is in one state only, so the set is at its end.
  await view.getByRole('button', { name: 'Next exercise' }).click();
  await view.getByText('0 of 1 as planned').waitFor();
  await view.getByRole('button', { name: 'Another set' }).click();

  // The cases of working practice come first, in order, with number and source; what they show does not give
  // the answer away.
  assert.match(await view.locator('.sets button').first().textContent(), /Cases of working practice/);
  await view.getByRole('button', { name: 'Cases of working practice' }).click();
  const right = [['P1', '1.2'], ['P2', '1.1'], ['P3', '1.1'], ['P4', '1.1'], ['P5', '1.1'], ['P6', '1.2'], ['P6', '1.1'], ['P7', '1.1', '1.2']];
  for (const [n, [number, ...raised]] of right.entries()) {
    await view.getByText(new RegExp(`^Exercise ${n + 1}\\b`)).waitFor();
    assert.match(await view.locator('h1').textContent(), new RegExp(`^${number}: `));
    await view.getByText(/Source: common practice, no published source\. An operator’s rule book may say otherwise\./).waitFor();
    if (n === 5) {
      assert.match(await view.locator('svg').textContent(), /dangerous/);
      await picture(page, 'practice-case-defect');
    }
    assert.equal(await view.locator('[data-of=ice]').count(), number === 'P7' ? 1 : 0);
    const { is_planned } = await answered(...raised);
    // Of two variants of P6 one is answered wrong.
    assert.equal(is_planned, n !== 6, number);
    await view.getByRole('button', { name: 'Next exercise' }).waitFor();
    if (number === 'P7') await picture(page, 'practice-case-judged');
    else await view.getByRole('button', { name: 'Next exercise' }).click();
  }
  await view.getByRole('button', { name: 'Result sheet' }).click();
  await view.getByText('7 of 8 as planned').waitFor();
  await view.getByText('P7: One locomotive, iced contact wire').waitFor();
  await picture(page, 'practice-case-sheet');
  // On to P17: which locomotive goes dead in tow is the answer, and is not drawn before.
  const button = (name) => view.getByRole('button', { name });
  await button('Go on with this set').click();
  for (let n = 1; ; n = (n % 10) + 1) {
    await view.getByText(new RegExp(`^Exercise ${n}\\b`)).waitFor();
    await view.getByText('What is up here?').waitFor();
    if ((await view.locator('h1').textContent()).startsWith('P17: ')) break;
    await answered();
    await button('Next exercise').click();
    if (n === 10) await button('Go on with this set').click();
  }
  assert.equal(await view.locator('[stroke-dasharray="2 2"]').count(), 0);
  assert.ok((await answered('1.2')).is_planned);
  await button('Result sheet').click();
  await view.getByRole('button', { name: 'Another set' }).click();

  // A case for each rule of practice: a train is looked for, and no rule comes twice.
  const rules = [];
  await view.getByRole('button', { name: 'Rules of practice' }).click();
  for (const n of [1, 2, 3]) {
    await view.getByText(new RegExp(`^Exercise ${n}\\b`)).waitFor();
    const { planned } = await answered();
    await view.getByRole('button', { name: 'Next exercise' }).waitFor();
    rules.push([...(await view.locator('.reasons section').last().textContent()).matchAll(/practice · rule ([a-z-]+)/g)].map((one) => one[1]));
    assert.ok(planned.length > 0);
    if (n < 3) await view.getByRole('button', { name: 'Next exercise' }).click();
  }
  for (const n of [1, 2]) assert.ok(rules[n].some((rule) => !rules.slice(0, n).flat().includes(rule)), `${rules[n]} came before`);
  // One that is answered as the plan is.
  await view.getByRole('button', { name: 'Next exercise' }).click();
  await view.getByText(/^Exercise 4\b/).waitFor();
  const fourth = await answered();
  await view.getByRole('button', { name: 'Result sheet' }).click();
  await view.getByRole('button', { name: 'Another set' }).click();
  await view.getByRole('button', { name: 'This train along its route' }).click();
  await view.getByText('What is up here?').waitFor();
  assert.ok((await answered('1.1', '2.2')).is_planned);
  await view.getByText('as planned', { exact: true }).waitFor();
  await view.getByRole('button', { name: 'Result sheet' }).click();
  await view.getByLabel('Name').fill('Ida Brandt');
  await view.getByText('1 of 1 as planned').waitFor();

  const file = path.join(library, 'results.pdf');
  writeFileSync(file, await page.pdf({ format: 'A4' }));
  const printed = execFileSync('pdftotext', [file, '-']).toString().replace(/\s+/g, ' ');
  for (const words of ['Result sheet', '1 of 1 as planned', 'Heavy petrol to Tarnholt', ...fourth.cautions]) assert.ok(printed.includes(words), `${words}: ${printed}`);
  assert.ok(!/Another set|Back to the plan/.test(printed), 'controls are printed');

  // By hand on a phone: all of an exercise can be reached by a finger.
  await page.setViewportSize({ width: 390, height: 844 });
  await view.getByRole('button', { name: 'Another set' }).click();
  await view.getByRole('button', { name: 'This train along its route' }).click();
  await view.getByText('What is up here?').waitFor();
  assert.ok((await view.evaluate((one) => one.scrollWidth - one.clientWidth)) <= 0);
  for (const box of await view.getByRole('button').evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height))) assert.ok(box >= 40, `a button of ${box} px`);
  await picture(page, 'practice-390');
  await view.getByRole('button', { name: 'Back to the plan' }).click();
  await page.getByRole('slider', { name: /Chainage/ }).waitFor();
});
