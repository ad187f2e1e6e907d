import type { BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';

/** One cup as a taster meets it: take it, mark every question, leave it. */
export class TasterPhone {
  readonly page: Page;
  readonly context: BrowserContext;

  constructor(page: Page, context: BrowserContext) {
    this.page = page;
    this.context = context;
  }

  /** Opens the link; the page's clock may later be moved on past the rests. */
  async open(link: string): Promise<void> {
    await this.page.clock.install();
    await this.page.goto(link);
  }

  async consent(): Promise<void> {
    await this.page.getByRole('button', { name: 'I may taste' }).click();
  }

  async takeCup(): Promise<string> {
    const take = this.page.getByRole('button', { name: /^I have cup \d{3}$/ });
    await take.waitFor();
    const code = /\d{3}/.exec((await take.textContent())!)![0];
    await take.click();
    return code;
  }

  /** Marks every line by tapping it, at the given share of its length. */
  async markAll(share: number): Promise<void> {
    const lines = this.page.getByRole('slider');
    for (let k = 0; k < (await lines.count()); k++) {
      const box = (await lines.nth(k).boundingBox())!;
      await lines.nth(k).click({ position: { x: box.width * share, y: box.height / 2 } });
    }
    expect(await this.page.getByText('not marked yet').count()).toBe(0);
  }

  /** Marks the line and a point of a cup that asks for both. */
  async markLineAndPoint(share: number, point: number): Promise<void> {
    const line = this.page.getByRole('slider');
    const box = (await line.boundingBox())!;
    await line.click({ position: { x: box.width * share, y: box.height / 2 } });
    const points = this.page.locator('label').filter({ hasText: new RegExp(`^${point}$`) });
    await points.click();
  }

  async leaveCup(): Promise<void> {
    await this.page.getByRole('button', { name: 'Done with this cup' }).click();
  }

  /** Lets the rest between two cups pass by moving the page's clock. */
  async rest(): Promise<void> {
    await this.page.getByRole('heading', { name: 'Rinse and rest' }).waitFor();
    await this.page.clock.fastForward('11:00');
  }

  async finishCup(share: number): Promise<void> {
    await this.takeCup();
    await this.markAll(share);
    await this.leaveCup();
  }
}
