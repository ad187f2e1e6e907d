import { apart } from '../../../trials/schema/money.ts';
import { count, figure, listed } from '../numbers.ts';
import type { AttributeDraft, BriefDraft } from './draft.ts';
import { idsOf } from './ids.ts';
import { repeatsWithin } from './repeats.ts';

/** The allowed parts of a hundred of each component, in a line. */
export function componentsGist({ components }: BriefDraft): string {
  const said = components.filter(({ id, name }) => id !== '' || name !== '');
  return said.map(({ id, name, low, high }) => `${name || id}: ${low} to ${high} of 100`).join('; ');
}

/** Limits as sums with their ends. */
export function boundsGist(draft: BriefDraft): string {
  const ids = idsOf(draft).components;
  const nameOf = (id: string) => draft.components[ids.indexOf(id)]?.name || id;
  return draft.bounds
    .map(({ terms, least, most }) => {
      const sum = terms
        .map(({ coefficient, component }) =>
          coefficient === '1' ? nameOf(component) : `${coefficient} × ${nameOf(component)}`,
        )
        .join(' + ')
        .replaceAll('+ -', '− ');
      return `${sum}: ${least === '' ? '' : `at least ${least}`}${most === '' ? '' : ` at most ${most}`} of 100`;
    })
    .join('; ');
}

/** Settings with their ranges. */
export function settingsGist({ settings }: BriefDraft): string {
  return settings
    .map(({ id, name, low, high, unit }) => `${name || id} ${low} to ${high} ${unit}`)
    .join('; ');
}

/** Questions with their aims. */
export function attributesGist({ attributes }: BriefDraft): string {
  return attributes
    .filter(({ id, name }) => id !== '' || name !== '')
    .map((attribute) => `${attribute.name || attribute.id}: ${aimGist(attribute)}`)
    .join('; ');
}

function aimGist({ aim, target, targetHigh }: AttributeDraft): string {
  if (aim === 'value') return target;
  if (aim === 'range') return `${target} to ${targetHigh}`;
  return {
    most: 'as high as can be',
    least: 'as low as can be',
    reference: 'as the reference',
    none: 'only looked at',
  }[aim];
}

/** The size of a mix and the balance. */
export function balanceGist({ batch }: BriefDraft): string {
  const repeats = repeatsWithin(batch);
  const within = repeats === null ? '' : `, repeating within ${figure(repeats, 2)} g`;
  return `${batch.grams} g a mix, in steps of ${batch.readability} g${within}`;
}

/** How many taste how much. */
export function peopleGist({ panel }: BriefDraft): string {
  return `${panel.assessors} tasters, ${panel.cupsPerSitting} cups at a sitting`;
}

/** What the concentrate is made up with. */
export function concentrateGist(
  { concentrate: { carrier, percentVol, fillMillilitres } }: BriefDraft,
  nameOf: (material: string) => string,
): string {
  if (carrier === '') return '';
  return `filled to ${fillMillilitres} mL with ${nameOf(carrier)}, ${percentVol} % vol when made up`;
}

/** What is not to be exceeded. */
export function capsGist({ caps, currency = '' }: BriefDraft): string {
  const said = [
    caps.ethanol === '' ? '' : `${caps.ethanol} g of ethanol a sitting`,
    caps.cost === '' ? '' : `${`${apart(caps.cost)} ${currency}`.trim()} a litre`,
    caps.jurisdictions,
  ];
  return said.filter((one) => one !== '').join('; ');
}

/** How many cautions, and for whom. */
export function cautionsGist({ cautions }: BriefDraft): string {
  const to = (who: string) => cautions.filter((caution) => caution.to === who).length;
  const said = [
    [to('taster'), 'to who tastes'],
    [to('bench'), 'to the bench'],
    [to('label'), 'on the card'],
  ] as const;
  const some = said.filter(([number]) => number > 0).map(([number, where]) => `${number} ${where}`);
  return some.length === 0 ? '' : `${count(cautions.length, 'caution')}: ${listed(some)}`;
}
