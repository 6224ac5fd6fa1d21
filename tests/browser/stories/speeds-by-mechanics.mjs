// Speeds by both: the plan by the tables is on view at once, marked, and is not handed out; then that of
// the mechanics comes, slower, and the card is of it. Undo goes back to the tables.
import assert from 'node:assert/strict';
import { story } from '../story.mjs';
import { choose, here, open, part, settled } from '../user.mjs';

const alone = 'by the tables alone';

await story(
  'speeds by the mechanics',
  async (world) => {
    const { page, address, picture } = world;
    const head = page.locator('header');
    const papers = head.getByRole('group', { name: 'Hand out' }).getByRole('button');
    const asked = head.locator('.asked');
    const of_both = page.locator('.here').getByText('the lower of tables and mechanics');
    const by = (speed_from) => page.getByLabel('Speeds by').selectOption(speed_from);
    const jobs = async () => (await (await page.request.get(`${address}api/jobs`)).json()).jobs.filter((job) => job.kind === 'plan');

    await open(page, address);
    await choose(page, 'train', 'trains/t36-mail-double-new-cars.toml');
    await choose(page, 'route', 'routes/nordvale-main.toml');
    const by_tables = await here(page);
    await page.locator('.here').getByText('by the tables; the mechanics was not asked').waitFor();
    assert.ok(await papers.first().isEnabled());

    // Both: the tables' plan stays, and is marked.
    await by('both');
    await asked.getByText(alone).waitFor();
    await page.locator('.here').getByText(alone, { exact: true }).waitFor();
    assert.deepEqual(await here(page), by_tables);
    for (const paper of await papers.all()) assert.ok(await paper.isDisabled());
    assert.equal(await papers.first().getAttribute('title'), 'not before the mechanics has answered');
    await asked.getByText(/^\d+ of \d+ runs$/).waitFor();
    await picture(page, 'speeds-asked');

    // Stopped, it stays marked, and says so.
    await asked.getByRole('button', { name: 'Stop asking' }).click();
    await asked.getByText(/^Stopped: the mechanics has not answered/).waitFor();
    for (const paper of await papers.all()) assert.ok(await paper.isDisabled());
    assert.deepEqual(await here(page), by_tables);
    await picture(page, 'speeds-stopped');
    // Asked again, and given up by an undo: it is called off, and does not take the place of the tables' plan.
    await asked.getByRole('button', { name: 'Ask again' }).click();
    await asked.getByText(/^\d+ of \d+ runs$/).waitFor();
    const [before] = (await jobs()).filter((job) => job.state === 'running');
    await head.getByRole('button', { name: 'Undo' }).click();
    const running = async () => (await jobs()).some((job) => job.id === before.id && job.state === 'running');
    for (let looks = 0; (await running()) && looks < 100; ++looks) await page.waitForTimeout(50);
    assert.ok(!(await running()), 'what was asked for before goes on');
    assert.deepEqual(await here(page), by_tables);
    await page.locator('.here').getByText('by the tables; the mechanics was not asked').waitFor();
    await head.getByRole('button', { name: 'Redo' }).click();

    // The plan of the mechanics takes the place of the tables', in all that is shown.
    await of_both.waitFor({ timeout: 90_000 });
    assert.equal(await asked.count(), 0);
    const by_both = await here(page);
    assert.deepEqual(by_both.raised, by_tables.raised);
    assert.ok(by_both.speed < by_tables.speed, `${by_both.speed} km/h, by the tables ${by_tables.speed}`);
    await page.getByText(/not supported by the mechanics/).first().waitFor();
    await picture(page, 'speeds-by-both');

    // The card is of that plan.
    const [asked_card, popup] = await Promise.all([
      page.waitForRequest((request) => request.url().endsWith('/api/card')),
      page.waitForEvent('popup'),
      papers.first().click(),
    ]);
    await popup.close();
    assert.equal(asked_card.postDataJSON().speed_from, 'both');
    const link = head.getByRole('link', { name: /Driver’s card/ });
    await link.waitFor();

    // So is the answer to why not.
    const why = page.waitForRequest((request) => request.url().endsWith('/api/why'));
    await page.getByRole('button', { name: /^Pantograph 1\.2 down/ }).last().click();
    assert.equal((await why).postDataJSON().speed_from, 'both');

    // Undo: the tables again, and no card of before.
    await head.getByRole('button', { name: 'Undo' }).click();
    await settled(page);
    assert.deepEqual(await here(page), by_tables);
    assert.equal(await page.getByLabel('Speeds by').inputValue(), 'tables');
    assert.equal(await link.count(), 0);
    await page.locator('.here').getByText('by the tables; the mechanics was not asked').waitFor();
    const again = page.waitForRequest((request) => request.url().endsWith('/api/card'));
    const opened = page.waitForEvent('popup');
    await papers.first().click();
    assert.equal((await again).postDataJSON().speed_from, 'tables');
    await (await opened).close();

    // A reload keeps the choice, and asks again; what is kept is there at once.
    await by('both');
    await of_both.waitFor({ timeout: 60_000 });
    // The draft is kept soon after a change.
    await page.waitForTimeout(300);
    await page.reload();
    await settled(page);
    await of_both.waitFor({ timeout: 60_000 });
    assert.equal((await here(page)).speed, by_both.speed);
    await part(page, 'Explain');
    await page.getByText('the lower of tables and mechanics').waitFor();
  },
  { serve: (folder) => ['--store', `${folder}/runs.sqlite`] },
);
