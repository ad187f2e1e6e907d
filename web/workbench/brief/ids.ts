/** Short names of a draft's parts, row by row: what was typed, else made of the name; empty where both are. */
export interface Ids {
  components: string[];
  settings: string[];
  attributes: string[];
}

/** Parts of a draft that have a name and a short name. */
type Named = Record<keyof Ids, readonly { id: string; name: string }[]>;

const LISTS = ['components', 'settings', 'attributes'] as const;

/** Columns of the files, which no short name may take. */
const COLUMNS = ['mix', 'round', 'blend', 'name', 'unit', 'assessor', 'session', 'replicate', 'position'];

/** The short names that a draft's parts will have, each its own: `Lime oil` and `Lime` give `lime` and `lime-2`. */
export function idsOf(draft: Named): Ids {
  const typed = LISTS.flatMap((list) => draft[list].map(({ id }) => id.trim()));
  const taken = new Set([...COLUMNS, ...typed]);
  const own = (row: { id: string; name: string }): string => {
    if (row.id.trim() !== '') return row.id.trim();
    const made = candidates(row.name).find((one) => !taken.has(one)) ?? '';
    taken.add(made);
    return made;
  };
  const [components, settings, attributes] = LISTS.map((list) => draft[list].map(own));
  return { components: components!, settings: settings!, attributes: attributes! };
}

/** A short name out of a long one: `Grapefruit peel oil` gives `grapefruit`. */
export function idFrom(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/[^A-Za-z0-9 _-]/g, '')
    .trim()
    .toLowerCase();
  return (plain.split(/\s+/)[0] ?? '').replace(/^[^a-z]+/, '').slice(0, 37);
}

function candidates(name: string): string[] {
  const first = idFrom(name);
  return first === '' ? [] : [first, ...Array.from({ length: 30 }, (_, k) => `${first}-${k + 2}`)];
}
