import type { Live } from '../../../trials/schema/api.ts';
import { count, listed } from '../numbers.ts';

type Tray = Live['trays'][number];

/** Where a taster is, in a few words. */
export function standsAt({ absent, mayTaste, filled, cups, at, lastHeard }: Tray, open: boolean): string {
  if (absent) return 'did not come';
  if (cups > 0 && filled >= cups) return 'done';
  if (!mayTaste) return lastHeard === null ? 'not heard of yet' : 'has not said “I may taste” yet';
  if (!open) return 'ready';
  return at > 0 ? `at cup ${at} of ${cups}` : 'has begun';
}

/** What is worth a look at a tray, each in a sentence; `now` by the workbench's clock. */
export function troublesOf(tray: Tray, now: number): string[] {
  const { gaps, quietFrom, lastHeard, phones, clashes, late } = tray;
  const told: string[] = [];
  if (quietFrom !== null && lastHeard !== null && Date.parse(quietFrom) <= now) {
    const minutes = Math.max(1, Math.round((now - Date.parse(lastHeard)) / 60_000));
    told.push(
      `Nothing heard for ${count(minutes, 'minute')}: look whether the phone is awake and connected.`,
    );
  }
  if (gaps.length > 0) {
    const shown = gaps.slice(0, 4).map(({ code, missing }) => `${count(missing, 'mark')} of cup ${code}`);
    told.push(`Missing: ${listed(gaps.length > 4 ? [...shown, 'more'] : shown)}.`);
  }
  if (phones > 1)
    told.push(
      clashes > 0
        ? `Two phones with one link differ in ${count(clashes, 'mark')}; the later one counts.`
        : `${phones} phones were used with this link.`,
    );
  if (late > 0) told.push(`${count(late, 'answer')} came after the key was open: kept, not read.`);
  return told;
}
