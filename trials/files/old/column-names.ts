import type { OldColumn, OldRole } from '../../schema/old-tables.ts';

/** Names that columns of the files bear by themselves: no component or attribute may be called so. */
const RESERVED = ['mix', 'round', 'blend', 'name', 'unit', 'assessor', 'session', 'replicate', 'position'];

/** A heading without its unit in brackets: `Lime oil (g)` → `Lime oil`. */
export function withoutUnit(heading: string): string {
  return heading.replace(/\s*[([][^)\]]*[)\]]\s*$/, '').trim();
}

/** The unit in brackets at the end of a heading, if there is one. */
export function unitOf(heading: string): string | undefined {
  return /[([]([^)\]]{1,40})[)\]]\s*$/.exec(heading)?.[1]?.trim();
}

/**
 * The names under which the readers of files know the columns: `''` is passed over, a new component, setting or
 * attribute gets an id made of its heading.
 * @param taken ids that are used already; the new ones are added
 */
export function namesOf(
  columns: readonly OldColumn[],
  headings: readonly string[],
  taken: Set<string>,
): string[] {
  return columns.map(({ as, of }, index) => {
    if (as === 'pass') return '';
    if (!isNamed(as)) return as;
    return of ?? idOf(withoutUnit(headings[index]!), taken);
  });
}

/** Whether a role belongs to something that the brief names. */
export function isNamed(as: OldRole): as is 'component' | 'setting' | 'attribute' {
  return as === 'component' || as === 'setting' || as === 'attribute';
}

/** An id made of words: letters and digits, beginning with a letter, and not taken yet. */
function idOf(words: string, taken: Set<string>): string {
  const plain = words
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 30);
  const stem = /^[a-z]/.test(plain) && !RESERVED.includes(plain) ? plain : `x-${plain}`.replace(/-$/, '');
  let id = stem;
  for (let number = 2; taken.has(id); number++) id = `${stem}-${number}`;
  taken.add(id);
  return id;
}
