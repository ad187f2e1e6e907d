import type { LimitView } from '../../../trials/schema/api.ts';

const KINDS: Readonly<Record<string, string>> = {
  maximum: 'at most',
  banned: 'not permitted',
  'banned as such': 'not to be added as such',
  declared: 'declare above',
  told: 'see the source',
};

/** `at most 0.5 mg/kg`, or `not permitted`. */
export function saysOf({ kind, limit, unit }: Pick<LimitView, 'kind' | 'limit' | 'unit'>): string {
  const words = KINDS[kind] ?? kind;
  return limit === null || kind.startsWith('banned') ? words : `${words} ${limit} ${unit}`;
}

/** `in alcoholic drinks (bitters)`. */
export function drinksOf({ drinks, only }: Pick<LimitView, 'drinks' | 'only'>): string {
  const which = drinks === 'any' ? 'in any drink' : `in ${drinks} drinks`;
  return only === null ? which : `${which} (${only})`;
}
