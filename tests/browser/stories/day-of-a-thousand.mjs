// A thousand trains: only the rows in view are in the document, and scrolling and typing stay fluent.
import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { open, part } from '../user.mjs';

const trains = 1000;
const longest_ms = 50;
/** What is done once and not along with a hand. */
const at_once_ms = 100;
const pairs = [
  ['t01-containers', 'harl-tarnholt'],
  ['t11-limestone-double', 'harl-tarnholt'],
  ['t12-petrol-double', 'harl-tarnholt'],
  ['t29-petrol-to-port-selmo', 'harl-port-selmo'],
  ['t23-light-locomotive', 'mosk-kerrow'],
];

function makeDay(library) {
  const rows = ['number,train,route,departure,vehicles,conditions'];
  for (let i = 0; i < trains; ++i) {
    const [train, route] = pairs[i % pairs.length];
    const time = `${String(Math.floor((i * 1.4) / 60)).padStart(2, '0')}:${String(Math.floor(i * 1.4) % 60).padStart(2, '0')}`;
    rows.push(`${20000 + 7 * i},../trains/${train}.toml,../routes/${route}.toml,${time},,${i % 3 === 0 ? '../conditions/hard-frost.toml' : ''}`);
  }
  writeFileSync(path.join(library, 'days/thousand.csv'), `${rows.join('\n')}\n`);
  writeFileSync(
    path.join(library, 'days/thousand.toml'),
    'kind = "day"\nname = "A thousand"\ndate = 2031-05-14\ninvented = true\nrules = ["../rules/nordvale-freight.toml"]\ntable = "thousand.csv"\n',
  );
}

/** For each step, in ms: what the page works until its frame is drawn, in time of its own thread, and
 *  how long that takes. Beside other work on the machine a frame takes longer, the work does not. */
async function measured(page, steps, step) {
  const browser = await page.context().newCDPSession(page);
  await browser.send('Performance.enable', { timeDomain: 'threadTicks' });
  const worked = async () => (await browser.send('Performance.getMetrics')).metrics.find((one) => one.name === 'TaskDuration').value * 1000;
  const work = [];
  const took = [];
  for (let i = 0; i < steps; ++i) {
    const before = await worked();
    took.push(
      await page.evaluate(
        async ([i, source]) => {
          const begun = performance.now();
          new Function('i', source)(i);
          await new Promise((done) => requestAnimationFrame(() => {
            const after = new MessageChannel();
            after.port1.onmessage = done;
            after.port2.postMessage(null);
          }));
          return performance.now() - begun;
        },
        [i, step],
      ),
    );
    work.push((await worked()) - before);
  }
  await browser.detach();
  const rising = (a, b) => a - b;
  return { work: work.sort(rising), took: took.sort(rising) };
}
const at = (times, share) => times[Math.min(times.length - 1, Math.floor(times.length * share))];

await story('day of a thousand', async (world) => {
  makeDay(world.library);
  const { page, address } = world;
  await page.setViewportSize({ width: 1440, height: 900 });
  await open(page, address);
  await part(page, 'Day');
  await page.getByRole('combobox', { name: 'Day' }).selectOption('days/thousand.toml');
  const grid = page.getByRole('grid', { name: 'Trains of the day' });
  await grid.waitFor();
  const begun = Date.now();
  // Rows fill in while the day is planned, and it can be stopped.
  await page.waitForFunction(() => /not planned yet [1-9]\d{0,2}$/.test(document.querySelector('[role=group]')?.textContent?.trim() ?? ''), null, { timeout: 120_000 });
  // Loaded anew meanwhile, the page does not wait for what it asked before: it goes on from there.
  await page.reload();
  await page.waitForFunction(() => /not planned yet [1-9]\d{0,2}$/.test(document.querySelector('[role=group]')?.textContent?.trim() ?? ''), null, { timeout: 120_000 });
  const { jobs } = await (await page.request.get(`${address}api/jobs`)).json();
  assert.deepEqual(jobs.filter((job) => job.state === 'running' || job.state === 'waiting').map((job) => job.state), ['running']);
  await page.getByText('Cautions', { exact: true }).waitFor({ timeout: 300_000 });
  console.log(`planned within ${((Date.now() - begun) / 1000).toFixed(1)} s`);
  assert.equal(await grid.getAttribute('aria-rowcount'), String(trains + 1));

  const rows_in_document = () => page.locator('[role=grid] [data-number]').count();
  assert.ok((await rows_in_document()) < 60, `${await rows_in_document()} rows are in the document`);

  const fluent = async (what, steps, step, most_ms = longest_ms) => {
    const { work, took } = await measured(page, steps, step);
    const said = (times) => `${at(times, 0.5).toFixed(1)} ms in the middle, ${at(times, 0.95).toFixed(1)} ms at 95 of 100`;
    console.log(`${what}: the page works ${said(work)}, ${work.at(-1).toFixed(1)} ms at most; a frame takes ${said(took)}; of ${steps}`);
    assert.ok(at(work, 0.5) > 0.1, `${what} is no work at all: it is not measured`);
    assert.ok(at(work, 0.95) < most_ms, `${what} is ${at(work, 0.95).toFixed(0)} ms of work a frame`);
  };
  await fluent('scrolling', 120, "document.querySelector('[role=grid]').scrollTop = i * 270");
  assert.ok((await rows_in_document()) < 60);
  const seen = await page.evaluate(() => {
    const board = document.querySelector('[role=grid]').getBoundingClientRect();
    const at = document.elementFromPoint(board.left + 20, board.bottom - 60);
    return at?.closest('[data-number]')?.getAttribute('aria-rowindex') ?? '';
  });
  assert.ok(Number(seen) > 900, `row ${seen} is seen where the table ends`);

  await fluent(
    'typing',
    24,
    "const field = document.querySelector('input[type=search]'); field.value = 'petrol 21 selmo '.repeat(2).slice(0, 1 + (i % 16)); field.dispatchEvent(new Event('input', { bubbles: true }))",
  );
  await page.getByRole('searchbox').fill('');

  await fluent('sorting', 16, "document.querySelectorAll('[role=columnheader]')[1 + (i % 9)].click()", at_once_ms);
  // Trains are chosen, one by one and all at once.
  await page.getByText('no train chosen').waitFor();
  await fluent('choosing', 24, "document.querySelectorAll('[role=gridcell].choose')[i % 12].click()");
  await fluent('choosing all', 7, "document.querySelector('[role=columnheader].choose').click()", at_once_ms);
  await page.getByText(`${trains} trains chosen`).waitFor();
  await page.getByRole('button', { name: 'Choose none' }).click();

  // What was looked at is in focus again, wherever it has gone to.
  await page.getByRole('searchbox').press('ArrowDown');
  await page.keyboard.press('Control+End');
  const last = await page.evaluate(() => document.activeElement?.closest('[data-number]')?.getAttribute('aria-rowindex'));
  assert.equal(last, String(trains + 1));
  await page.evaluate(() => (document.querySelector('[role=grid]').scrollTop = 0));
  await page.waitForTimeout(100);
  assert.equal(await page.evaluate(() => document.activeElement?.closest('[data-number]')?.getAttribute('aria-rowindex')), String(trains + 1));

  // A second look is at once.
  const again = Date.now();
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByText('Cautions', { exact: true }).waitFor({ state: 'detached' });
  await page.getByText('Cautions', { exact: true }).waitFor({ timeout: 60_000 });
  console.log(`looked at again within ${((Date.now() - again) / 1000).toFixed(1)} s`);
}, { serve: (folder) => ['--no-store', '--register', path.join(folder, 'cards.sqlite')] });
