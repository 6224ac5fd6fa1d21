// Answer, orders and failures stand beside the train on one screen; a phone is enough to read the plan and for
// a failure on the road; and no label of the strip covers another.
import assert from 'node:assert/strict';
import { faults } from '../axe.mjs';
import { story } from '../story.mjs';
import { choose, open, settled } from '../user.mjs';

/** Pairs of labels of the strip that touch each other. The place of the train goes over all of them. */
const covered = (page) =>
  page.locator('.strip .field svg').evaluate((svg) => {
    const all = [...svg.querySelectorAll('text:not(.now)')].map((one) => ({ text: one.textContent, box: one.getBoundingClientRect() }));
    return all.flatMap((a, i) =>
      all.slice(i + 1).filter((b) => a.box.left < b.box.right - 1 && b.box.left < a.box.right - 1 && a.box.top + 3 < b.box.bottom - 3 && b.box.top + 3 < a.box.bottom - 3).map((b) => `${a.text} / ${b.text}`),
    );
  });

await story(
  'one screen',
  async ({ page, address, picture }) => {
    await open(page, address);
    const answered = page.waitForResponse((response) => response.url().endsWith('/api/plan'));
    await choose(page, 'train', 'trains/t29-petrol-to-port-selmo.toml');
    await answered;
    const planned = page.waitForResponse((response) => response.url().endsWith('/api/plan'));
    await choose(page, 'route', 'routes/harl-port-selmo.toml');
    const { plan } = await (await planned).json();
    await settled(page);

    // The whole of it at once: answer, train, speed, the first order, what to ask of a failure.
    const failures = page.getByRole('region', { name: 'When one fails' });
    const on_view = [
      page.locator('header [role=status] .big'),
      page.locator('#train .board svg').first(),
      page.locator('.here .speed strong'),
      page.getByText(plan.instructions[0].text, { exact: true }).first(),
      failures.getByRole('button').last(),
    ];
    for (const one of on_view) {
      const box = await one.boundingBox();
      assert.ok(box && box.y >= 0 && box.y + box.height <= 860, `${await one.textContent()} ends at ${box?.y + box?.height} px`);
    }
    // The editor comes when something is picked.
    const editor = page.getByLabel('Vehicle or wagons');
    assert.equal(await editor.count(), 0);
    await page.getByRole('list', { name: 'Order of the train, front first' }).last().getByRole('button', { name: 'M62 109' }).click();
    await editor.waitFor();
    await page.getByRole('list', { name: 'Order of the train, front first' }).last().getByRole('button', { name: 'M62 109' }).click();
    assert.equal(await editor.count(), 0);
    // What is chosen is ink, not grey, and all begins at one edge.
    const ink = await page.evaluate(() => getComputedStyle(document.body).color);
    for (const kind of ['train', 'route', 'conditions']) assert.equal(await page.locator(`select.${kind}`).evaluate((one) => getComputedStyle(one).color), ink);
    const edges = await page.evaluate(() =>
      ['.mark', 'select.train', '.rules legend', '.consist .plain', '.here .km', '#strip-head', '.strip .field', '#why-head', '#cautions-head'].map((name) => {
        const one = document.querySelector(name);
        return `${name} ${Math.round(one.getBoundingClientRect().left + parseFloat(getComputedStyle(one).paddingLeft))}`;
      }),
    );
    assert.equal(new Set(edges.map((one) => one.split(' ').at(-1))).size, 1, edges.join(', '));
    assert.deepEqual(await covered(page), []);
    await picture(page, 'one-screen-1440', { fullPage: false });

    for (const [width, height] of [[820, 1180], [390, 844]]) {
      await page.setViewportSize({ width, height });
      // It is laid out anew a moment later.
      await page.waitForFunction((now) => document.querySelector('.strip .field svg').getAttribute('width') <= now, width);
      assert.deepEqual(await covered(page), [], `${width} px`);
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
      await picture(page, `one-screen-${width}-top`, { fullPage: false });
    }
    // On a phone: what is open in a line, the answer and the train as a sign on the first screen.
    for (const kind of ['train', 'route', 'conditions', 'speeds']) assert.ok(!(await page.locator(`select.${kind}`).isVisible()), kind);
    for (const one of [page.locator('.chosen'), page.locator('header [role=status] .big'), page.locator('#train .sign svg'), page.locator('.here .speed strong')]) {
      const box = await one.boundingBox();
      assert.ok(box && box.x >= 0 && box.x + box.width <= 390 && box.y + box.height <= 844, `${box?.y} px`);
    }
    // One fails on the road: its name, then what to do, without going through the whole page.
    await failures.getByRole('button', { name: 'Pantograph 1.4' }).click();
    await page.getByText('Drawn with 1.4 failed').waitFor();
    await failures.locator('.then').first().waitFor();
    const [asked, told] = [await failures.getByRole('button', { name: 'Pantograph 1.4' }).boundingBox(), await failures.locator('.then').first().boundingBox()];
    assert.ok(told.y - asked.y < 500 && told.x + told.width <= 390);
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
    assert.deepEqual(await faults(page), []);
    await picture(page, 'one-screen-390-failed');
    // All can still be chosen.
    await page.getByRole('button', { name: 'Choose and set' }).click();
    assert.ok(await page.locator('select.train').isVisible());
    await page.getByRole('button', { name: 'Change the train' }).click();
    await editor.waitFor();
    assert.ok(await page.locator('#train .board').isVisible());
  },
  { context: { viewport: { width: 1440, height: 900 } } },
);
