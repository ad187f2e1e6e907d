import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { MaterialView } from '../../../trials/schema/api.ts';
import { ask } from '../server.ts';

const known = signal<readonly MaterialView[]>([]);

/** Materials of the shelf, once they have come: names for short names, and what is offered while one is typed. */
export function useMaterials(): readonly MaterialView[] {
  useEffect(() => {
    ask('readShelf', {}).then(
      ({ materials }) => {
        known.value = materials;
      },
      () => undefined, // without the shelf short names stand for themselves
    );
  }, []);
  return known.value;
}

/** What a material is called: `ethanol-96` is Ethanol 96 % vol; what the shelf does not know keeps its name. */
export function materialName(materials: readonly MaterialView[], id: string): string {
  return materials.find(({ material }) => material === id)?.name ?? id;
}

/** The short name of a material that is called so, else what was typed. */
export function materialNamed(materials: readonly MaterialView[], typed: string): string {
  return materials.find(({ name }) => name.toLowerCase() === typed.trim().toLowerCase())?.material ?? typed;
}
