import type { TrialView } from '../../../trials/schema/api.ts';
import type { CardNames } from '../../sheets/card-names.ts';

/** Names of a brief's parts as the card prints them. */
export function cardNames({ brief }: TrialView): CardNames {
  return {
    components: brief.components.map(({ id, name }) => ({ id, name })),
    settings: brief.settings.map(({ id, name, unit = '' }) => ({ id, name, unit })),
    attributes: brief.attributes.map(({ id, name, scale }) => ({ id, name, scale })),
  };
}
