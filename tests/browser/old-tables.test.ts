import { describe, expect, test } from 'vitest';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

/** As a spreadsheet saves it where decimals have commas. */
const MIXES = `\uFEFFSample;Peel (g);Lime (g);Wood (g);Total
A;0,50;1,25;0,25;2,00
B;1,00;0,50;0,50;2,00
C;0,75;0,75;0,50;2,00
D;1,20;0,40;0,40;2,00
`.replaceAll('\n', '\r\n');

const head = 'Taster;Sample;Bitter;Fresh';
const rows = ['P1;A;61;40', 'P1;B;38;55', 'P1;C;45;52', 'P1;D;30;70', 'P2;A;58;35', 'P2;B;41;50'];
const more = ['P2;C;47;49', 'P2;D;33;64', 'P3;A;66;42', 'P3;B;35;61', 'P3;C;50;55', 'P3;D;28;66'];
const scoresWith = (first: string) => `${[head, first, ...rows.slice(1), ...more].join('\n')}\n`;

const file = (name: string, text: string | Buffer) => ({
  name,
  mimeType: 'text/csv',
  buffer: Buffer.from(text),
});

describe('old tastings', () => {
  test('are seen, mended, stored whole and read', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    const acts = async () => (await (await fetch(`${program.address}/api/trials`)).json()) as unknown[];
    await page.goto(program.address);
    await page.getByRole('link', { name: 'Bring in old tastings' }).click();
    await page.getByRole('heading', { name: 'Old tastings' }).waitFor();

    const mixes = page.getByLabel('The mixes, as they were weighed');
    const scores = page.getByLabel('The scores');
    await mixes.setInputFiles(file('weighed.csv', Buffer.from('Sample;Peel', 'utf16le')));
    await scores.setInputFiles(file('tasted.csv', scoresWith('P1;A;6l;40')));
    await page.getByText(/weighed\.csv: found UTF-16.* allowed UTF-8 text/).waitFor();
    await mixes.setInputFiles(file('weighed.csv', MIXES));

    const fault = page.locator('td.wrong');
    await fault.waitFor();
    expect(await fault.textContent()).toContain('6l');
    await page.getByText(/tasted\.csv, line 2, column Bitter: found "6l"/).waitFor();
    expect(await page.getByRole('button', { name: 'Store this round' }).count()).toBe(0);

    await scores.setInputFiles(file('tasted.csv', scoresWith('P1;A;61;40')));
    const choice = page.getByLabel('What Taster is');
    await page.getByText(/4 mixes from 4 bottles; P1, P2 and P3; 12 cups/).waitFor();
    expect(await choice.inputValue()).toBe('assessor');
    expect(await page.getByLabel('What Total is').inputValue()).toBe('pass');

    await page.getByLabel('What Fresh is').selectOption({ label: 'not needed' });
    await page.getByText(/12 scores, none missing/).waitFor();
    await page.getByLabel('What Fresh is').selectOption({ label: 'a score' });
    await page.getByText(/24 scores, none missing/).waitFor();
    await page.getByLabel('Fresh: upper end of the scale').fill('60');
    await page.getByLabel('Fresh: upper end of the scale').press('Tab');
    await page.getByText(/tasted\.csv, line 5, column Fresh: found "70"/).waitFor();
    await page.getByLabel('Fresh: upper end of the scale').fill('100');
    await page.getByLabel('Fresh: upper end of the scale').press('Tab');

    await page.getByLabel('What the trial is called').fill('Peel, years ago');
    expect(await acts()).toHaveLength(1);
    await page.getByRole('button', { name: 'Store this round' }).click();
    await page.getByRole('button', { name: 'Read the scores' }).click();
    await page.getByRole('heading', { name: 'Can we trust the panel?' }).waitFor();
    await page.getByText('Peel, years ago').first().waitFor();
    expect(await acts()).toHaveLength(2);
    expect(errors).toEqual([]);
  });
});
