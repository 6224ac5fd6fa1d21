// Files from elsewhere are dropped on the page: what they would change is seen before anything is
// written, taken or left, and taken back. All lines and classes are invented.
import assert from 'node:assert/strict';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { story } from '../story.mjs';
import { open, part, settled } from '../user.mjs';

const columns = ('sol line opStart opStartName opEnd opEndName lengthKm track oclType supply trainA standstillA heightMin heightMax tsiHead '
  + 'otherHead strip metallic force limited mtuDoc add raisedN raisedM raisedKmh raisedOld vmax gradient hasPhase hasSystem temperature').split(' ');
const answer = (vars, rows) =>
  JSON.stringify({ head: { vars }, results: { bindings: rows.map((row) => Object.fromEntries(Object.entries(row).map(([key, value]) => [key, { type: 'literal', value }]))) } });
const sections = (vmax) => ({
  name: 'sections.json',
  mimeType: 'application/json',
  text: answer(columns, [0, 1].map((n) => ({
    sol: `http://example.invalid/sol-${n}`, line: '7', opStart: `http://example.invalid/p${n}`, opEnd: `http://example.invalid/p${n + 1}`, lengthKm: '5',
    track: '1', supply: 'http://data.europa.eu/949/concepts/energy-supply-systems/rinf/AC20', vmax, hasPhase: 'false', hasSystem: 'false',
  }))),
});
const separations = {
  name: 'separations.json',
  mimeType: 'application/json',
  text: answer('sol track kind km lengthM lengthIs breakerOff lowered change old'.split(' '), []),
};

const journey = (ends) => ({
  name: 'm.xml',
  mimeType: 'text/xml',
  text: `<?xml version="1.0"?><TrainCompositionMessage xmlns="http://taf-jsg.info/schemes"><OperationalTrainNumberIdentifier><OperationalTrainNumber>60412</OperationalTrainNumber></OperationalTrainNumberIdentifier>${ends.map(([from, to]) => {
    const place = (name) => `<CountryCodeISO>XQ</CountryCodeISO><LocationPrimaryCode>00011</LocationPrimaryCode><PrimaryLocationName>${name}</PrimaryLocationName>`;
    return `<TrainCompositionJourneySection><JourneySection><JourneySectionOrigin>${place(from)}</JourneySectionOrigin><JourneySectionDestination>${place(to)}</JourneySectionDestination></JourneySection><TrainRunningData><TrainRunningTechData><TrainMaxSpeed>90</TrainMaxSpeed></TrainRunningTechData><DangerousGoodsIndicator>0</DangerousGoodsIndicator></TrainRunningData><LocoIdent><TractionType>11</TractionType><LocoNumber>919900410070</LocoNumber><TractionMode>11</TractionMode><TractionPositionInTrain>0</TractionPositionInTrain></LocoIdent></TrainCompositionJourneySection>`;
  }).join('')}</TrainCompositionMessage>`,
});
const series = { name: 'series.csv', mimeType: 'text/csv', text: 'series,class\n0041,k41\n' };

/** Drops files on the page as a desktop does. */
async function drop(page, files) {
  const data = await page.evaluateHandle((given) => {
    const transfer = new DataTransfer();
    for (const { name, mimeType, text } of given) transfer.items.add(new File([text], name, { type: mimeType }));
    return transfer;
  }, files);
  await page.dispatchEvent('main', 'dragover', { dataTransfer: data });
  await page.getByText('Drop the files: nothing is written yet.').waitFor();
  await page.dispatchEvent('main', 'drop', { dataTransfer: data });
}
/** The browser needs a moment before it hands the chooser to the story. */
async function chooserByKeyboard(page) {
  await page.getByRole('button', { name: 'Choose files' }).focus();
  const chooser = page.waitForEvent('filechooser');
  await page.waitForTimeout(200);
  await page.keyboard.press('Enter');
  return chooser;
}
/** Chooses files as somebody does who has no mouse. */
async function choose(page, files) {
  const chooser = await chooserByKeyboard(page);
  await chooser.setFiles(files.map(({ name, mimeType, text }) => ({ name, mimeType, buffer: Buffer.from(text) })));
}

await story('take in', async ({ page, address, library, context, picture, expected }) => {
  expected.push(/422/); // what cannot be taken in is refused
  await open(page, address);
  const network = path.join(library, 'networks/register.toml');
  const block = page.getByRole('region', { name: 'Take in' });

  // Dropped anywhere: the page shows what it would be, and nothing is written.
  await drop(page, [sections('160'), separations]);
  await block.getByRole('heading', { name: /What this would change · from the infrastructure register/ }).waitFor();
  assert.equal(await block.getByLabel('Goes to').inputValue(), 'networks/register.toml');
  await block.getByText('new', { exact: true }).waitFor();
  await block.getByRole('list', { name: /to be looked at/ }).getByText(/where it begins is not known/).waitFor();
  assert.equal(existsSync(network), false);
  await picture(page, 'take-in-register');

  // What the register does not say is asked for.
  await block.getByLabel('line 7 begins at km').fill('12,5');
  await block.getByRole('button', { name: 'Show again' }).click();
  await block.getByText('from_km = 12.5').waitFor();

  // Left: nothing has happened.
  await block.getByRole('button', { name: 'Leave it' }).click();
  await block.getByRole('heading', { name: /What this would change/ }).waitFor({ state: 'detached' });
  assert.equal(existsSync(network), false);

  // Taken, by the keyboard alone, and taken back.
  await choose(page, [sections('160'), separations]);
  await block.getByRole('button', { name: 'Take it' }).waitFor();
  await block.getByRole('button', { name: 'Take it' }).focus();
  await page.keyboard.press('Enter');
  await block.getByText('Taken in as networks/register.toml.').waitFor();
  assert.match(readFileSync(network, 'utf8'), /line_speed_kmh = 160/);
  await block.getByRole('button', { name: 'Undo' }).click();
  await block.getByText('networks/register.toml is gone again.').waitFor();
  assert.equal(existsSync(network), false);

  // Over one that is there: what differs, and back to what was there.
  await choose(page, [sections('160'), separations]);
  await block.getByRole('button', { name: 'Take it' }).click();
  await block.getByText('Taken in as networks/register.toml.').waitFor();
  const first = readFileSync(network, 'utf8');
  await drop(page, [sections('120'), separations]);
  await block.getByText(/'line_speed_kmh' was 160, now 120/).waitFor();
  await block.getByText('there already', { exact: true }).waitFor();
  await page.setViewportSize({ width: 1440, height: 900 });
  await picture(page, 'take-in-differs', { fullPage: false });
  await page.setViewportSize({ width: 1280, height: 800 });
  await block.getByRole('button', { name: 'Take it' }).click();
  await block.getByText('Taken in as networks/register.toml.').waitFor();
  assert.match(readFileSync(network, 'utf8'), /line_speed_kmh = 120/);
  await block.getByRole('button', { name: 'Undo' }).click();
  await block.getByText('networks/register.toml is as it was before.').waitFor();
  assert.equal(readFileSync(network, 'utf8'), first);

  // What is missing is said, and may come after.
  await choose(page, [sections('120')]);
  await block.getByRole('alert').getByText(/separation sections is missing/).waitFor();
  assert.equal(await block.getByRole('button', { name: 'Take it' }).count(), 0);
  await choose(page, [separations]);
  await block.getByText(/'line_speed_kmh' was 160, now 120/).waitFor();
  await block.getByRole('button', { name: 'Leave it' }).click();

  // A file that the page works on opens in it; undo is the page's own.
  const frost = readFileSync(path.join(library, 'conditions/hard-frost.toml'), 'utf8');
  await choose(page, [{ name: 'hard-frost.toml', mimeType: 'application/toml', text: `${frost}\n# colder\n` }]);
  await block.getByText('+ # colder').waitFor();
  await block.getByRole('button', { name: 'Take it' }).click();
  await block.getByText(/conditions\/hard-frost.toml is open. It is not written yet/).waitFor();
  await settled(page);
  assert.equal(readFileSync(path.join(library, 'conditions/hard-frost.toml'), 'utf8'), frost);
  await page.getByRole('button', { name: /hard-frost.toml · unsaved/ }).waitFor();
  await block.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: /hard-frost.toml/ }).waitFor({ state: 'detached' });

  // A message asks for what it lacks.
  await choose(page, [{ name: 'm.xml', mimeType: 'text/xml', text: '<?xml version="1.0"?><TrainCompositionMessage/>' }]);
  await block.getByRole('alert').getByText(/the braking of the train is not in a message/).waitFor();
  await block.getByLabel('braking m/s²').fill('0,4');
  await block.getByLabel('acceleration m/s²').fill('0,2');
  await block.getByRole('button', { name: 'Show again' }).click();
  await block.getByText(/the braking of the train is not in a message/).waitFor({ state: 'detached' });
  await block.getByRole('alert').getByText(/table of series and classes/).waitFor();
  await block.getByRole('button', { name: 'Leave it' }).click();

  // Several trains of one message: each is shown, and taken or left.
  await choose(page, [journey([['Harl', 'Tarnholt'], ['Tarnholt', 'Sollin']]), series]);
  await block.getByRole('alert').getByText(/the braking of the train is not in a message/).waitFor();
  await block.getByLabel('braking m/s²').fill('0,4');
  await block.getByLabel('acceleration m/s²').fill('0,2');
  await block.getByLabel('cab at the front, vehicle=1 or =2').fill('919900410070=1');
  await block.getByRole('button', { name: 'Show again' }).click();
  await block.getByRole('heading', { name: /The message has 2 trains/ }).waitFor();
  await block.getByRole('button', { name: 'Take 2 trains' }).waitFor();
  await block.getByRole('checkbox', { name: 'section 1, Harl – Tarnholt' }).uncheck();
  await picture(page, 'take-in-trains');
  await block.getByRole('button', { name: 'Take one train' }).click();
  await block.getByText('Taken in as trains/m-2.toml.').waitFor();
  assert.match(readFileSync(path.join(library, 'trains/m-2.toml'), 'utf8'), /id = "60412-2"/);
  assert.equal(existsSync(path.join(library, 'trains/m-1.toml')), false);
  await block.getByRole('button', { name: 'Undo' }).click();
  await block.getByText('trains/m-2.toml is gone again.').waitFor();
  assert.equal(existsSync(path.join(library, 'trains/m-2.toml')), false);

  // What is no text in UTF-8 is not guessed at.
  const chooser = await chooserByKeyboard(page);
  await chooser.setFiles([{ name: 'old.xml', mimeType: 'text/xml', buffer: Buffer.from([0x3c, 0xe4, 0xff]) }]);
  await block.getByRole('alert').getByText(/old.xml is no text in UTF-8/).waitFor();

  // On a phone, by finger, in German.
  const phone = await (await context({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, locale: 'de-DE' })).newPage();
  await phone.goto(address);
  await phone.getByRole('navigation').getByRole('button', { name: 'Dateien', exact: true }).tap();
  const auf = phone.getByRole('region', { name: 'Übernehmen' });
  const [waehler] = await Promise.all([phone.waitForEvent('filechooser'), auf.getByRole('button', { name: 'Dateien wählen' }).tap()]);
  await waehler.setFiles([sections('100'), separations].map(({ name, mimeType, text }) => ({ name, mimeType, buffer: Buffer.from(text) })));
  await auf.getByText(/'line_speed_kmh' was 160, now 100/).waitFor();
  assert.ok(await phone.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth), 'nothing is wider than the phone');
  await picture(phone, 'take-in-phone');
  await auf.getByRole('button', { name: 'Übernehmen', exact: true }).tap();
  await auf.getByText('Übernommen als networks/register.toml.').waitFor();
  await auf.getByRole('button', { name: 'Rückgängig' }).tap();
  await auf.getByText('networks/register.toml ist wieder wie zuvor.').waitFor();
  assert.equal(readFileSync(network, 'utf8'), first);
  await part(page, 'Plan');
});
