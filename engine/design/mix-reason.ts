import { nameOf, sayList } from '../region/limits.ts';
import type { Region } from '../region/region.ts';
import type { Spot } from './candidate-table.ts';

/** A share this near to its most or least, relative to its range, is said to be there. */
const AT_END = 0.04;
const NEAR_MIDDLE = 0.17;

/** Why a mix is in the plan, in one sentence a bartender understands. */
export function reasonFor(region: Region, spot: Spot): string {
  const where = blendWords(region, spot);
  const settings = settingWords(region, spot);
  const first = where.says + (settings === '' ? '' : `, ${settings}`);
  return `${capital(first)}: ${where.shows}.`;
}

export function reasonForRepeat(of: string): string {
  return `${of} weighed again, to see how well you weigh and taste.`;
}

/** A mix poured from a bottle that another mix is poured from too. */
export function reasonForBottle(region: Region, spot: Spot, bottle: string): string {
  const changed = region.space.settings
    .filter(({ low, high }) => high > low)
    .map((setting) => nameFor(region, setting.id));
  return `The bottle of ${bottle} once more, ${settingWords(region, spot)}: shows what ${sayList(changed)} does to the same blend.`;
}

interface Words {
  says: string;
  shows: string;
}

function blendWords(region: Region, { shares }: Spot): Words {
  const free = shares.map((_, i) => i).filter((i) => region.high[i]! - region.low[i]! > 1e-9);
  if (free.length === 0) return { says: 'the only blend there is', shows: 'gives a first taste of it' };
  const part = (i: number) => (shares[i]! - region.low[i]!) / (region.high[i]! - region.low[i]!);
  const name = (i: number) => short(nameOf(region.space, i, region.names));
  const most = free.filter((i) => part(i) >= 1 - AT_END);
  const least = free.filter((i) => part(i) <= AT_END);
  const middle = free.every(
    (i) => Math.abs(shares[i]! - region.centroid[i]!) <= NEAR_MIDDLE * (region.high[i]! - region.low[i]!),
  );
  if (middle) return { says: 'the middle of everything', shows: 'shows the blend in balance' };
  if (most.length > 0) return atMost(most.map(name), least, region, name);
  const between = free.filter((i) => !least.includes(i));
  if (least.length > 0 && between.length === 2)
    return {
      says: `${name(between[0]!)} and ${name(between[1]!)} together, ${leastWords(least, region, name)}`,
      shows: 'shows whether the two help or hide each other',
    };
  if (least.length > 0)
    return {
      says: leastWords(least, region, name),
      shows: `shows the blend when ${sayList(least.map(name))} ${least.length > 1 ? 'step' : 'steps'} back`,
    };
  const high = free.reduce((best, i) => (part(i) > part(best) ? i : best));
  return {
    says: `inside the allowed ratios, toward ${name(high)}`,
    shows: 'shows whether effects bend on the way',
  };
}

function atMost(
  most: readonly string[],
  least: readonly number[],
  region: Region,
  name: (i: number) => string,
): Words {
  const shown = least.slice(0, 2);
  const rest = shown.length > 0 ? `, ${leastWords(shown, region, name)}` : '';
  return {
    says: `as much ${sayList(most)} as allowed${rest}`,
    shows: most.length > 1 ? `shows what ${sayList(most)} do together` : `shows what ${most[0]} does`,
  };
}

function leastWords(least: readonly number[], region: Region, name: (i: number) => string): string {
  const none = least.filter((i) => region.low[i]! <= 1e-12).map(name);
  const some = least.filter((i) => region.low[i]! > 1e-12).map(name);
  const parts = [
    ...(none.length > 0 ? [`without ${sayList(none)}`] : []),
    ...(some.length > 0 ? [`with the least ${sayList(some)}`] : []),
  ];
  return parts.join(' and ');
}

function settingWords(region: Region, { coded }: Spot): string {
  const words = region.space.settings.flatMap((setting, s) => {
    if (!(setting.high > setting.low)) return [];
    const name = nameFor(region, setting.id);
    const z = coded[s]!;
    if (z > 0.9) return [`${name} at its highest`];
    if (z < -0.9) return [`${name} at its lowest`];
    if (Math.abs(z) < 0.15) return [`${name} in the middle`];
    return [`${name} ${z > 0 ? 'above' : 'below'} the middle`];
  });
  return sayList(words);
}

function nameFor(region: Region, id: string): string {
  return short(Object.hasOwn(region.names, id) ? region.names[id]! : id);
}

/** A display name without what follows a comma or bracket. */
function short(name: string): string {
  return name.split(/[,(]/)[0]!.trim() || name;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
