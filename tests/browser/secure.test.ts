import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { ownCertificate } from '../support/own-certificate.ts';
import { answersIn, type Laid, layOut } from './evening.ts';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';
import { TasterPhone } from './taster.ts';

const NAME = 'tasting.example';
const files = mkdtempSync(join(tmpdir(), 'dropwise-certificate-'));
let evening: Laid;

/** The browser takes the name for this machine and our own certificate for good. */
const stage = setStage(
  (program) => {
    const { certificate, key } = ownCertificate(files, NAME);
    [evening] = layOut(program, [{ assessors: ['P1', 'P2'] }]) as [Laid];
    program.options = ['--share', '--certificate', certificate, '--key', key];
    process.env.DROPWISE_PASSCODE = 'a passcode for the test';
  },
  [`--host-resolver-rules=MAP ${NAME} 127.0.0.1`, '--ignore-certificate-errors'],
);
const { program } = stage;
afterAll(() => rmSync(files, { recursive: true, force: true }));

/** What a browser says of a wrong passcode, of who has none yet, and of a server that is gone. */
const REFUSED = /Failed to load resource/;

describe('with a certificate', () => {
  test('the maker is let in by the passcode alone, and is told of nothing that others could read', async () => {
    expect(program.address).toMatch(new RegExp(`^https://${NAME.replace('.', '\\.')}:\\d+$`));
    const { page, context, errors } = await openPage(stage.browser, DESK, REFUSED);
    await page.goto(`${program.address}/#/trials/${evening.trial}`);
    const field = page.getByLabel('Passcode');
    await field.fill('not this one');
    await field.press('Enter');
    await page.getByRole('alert').waitFor();
    await field.fill('a passcode for the test');
    await field.press('Enter');
    await page.locator('.spine').first().waitFor();
    expect(await page.getByText('Not encrypted').count()).toBe(0);
    const [cookie] = await context.cookies();
    expect(cookie).toMatchObject({ secure: true, httpOnly: true, sameSite: 'Strict' });
    await page.reload();
    await page.locator('.spine').first().waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  test('a phone that reloads while the server is gone opens its ballot again, goes on, and sends it all later', async () => {
    const { page, context, errors } = await openPage(stage.browser, PHONE, REFUSED);
    const phone = new TasterPhone(page, context);
    await phone.open(program.address + evening.links['P1']);
    await phone.consent();
    await phone.takeCup();
    await phone.markLineAndPoint(0.2, 3);
    await phone.leaveCup();
    await page.getByText('all answers saved').waitFor();
    await page.evaluate('navigator.serviceWorker.ready.then(() => undefined)');
    await program.kill();
    await phone.rest();
    await page.reload();
    await page.getByText('The tasting cannot be reached.').waitFor();
    await phone.takeCup();
    await phone.markLineAndPoint(0.7, 6);
    await phone.leaveCup();
    await program.start();
    await page.clock.fastForward('00:20');
    await page.getByText('all answers saved').waitFor({ timeout: 90_000 });
    expect(errors).toEqual([]);
    await context.close();
    await program.kill();
    const { counted } = answersIn(program, evening);
    expect(counted.map(({ question }) => question).sort()).toEqual(['bitter', 'bitter', 'liking', 'liking']);
  });
});
