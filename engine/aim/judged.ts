import type { PanelPosterior } from '../model/posterior-types.ts';
import { type Attribute, REFERENCE, type Serving } from '../panel/observations.ts';
import { type Names, sayList } from '../region/limits.ts';

/** The attributes as they can be aimed at, and why others cannot. */
export interface Judged {
  /** In the order of the ballot; those that cannot be judged have no target here. */
  attributes: Attribute[];
  /** Which aimed attributes cannot be judged and what is missing, a sentence for each kind. */
  missing: string[];
  /** Ids of attributes without any score: nothing is predicted for them. */
  unscored: ReadonlySet<string>;
}

/**
 * Takes out of the aim what nobody has scored, and what is compared with a reference that was never poured. What is
 * left steers the search, but no chance of a match can be given then.
 */
export function judgedAttributes(
  attributes: readonly Attribute[],
  posterior: Pick<PanelPosterior, 'attributes'>,
  by: { servings: readonly Serving[]; names: Names },
): Judged {
  const unscored = new Set(
    posterior.attributes.flatMap(({ id, status }) => (status === 'estimated' ? [] : [id])),
  );
  const nobody = attributes.map(({ id, target }) => target !== null && unscored.has(id));
  const unpoured = attributes.map(({ target }, k) => {
    if (target?.kind !== 'reference' || nobody[k]) return false;
    return !by.servings.some(({ mix, scores }) => mix === REFERENCE && scores[k] != null);
  });
  const named = (these: readonly boolean[]) =>
    sayList(attributes.flatMap(({ id }, k) => (these[k] ? [calledBy(by.names, id)] : [])));
  const missing = [
    ...(nobody.includes(true) ? [`Aimed at, but not scored on any mix: ${named(nobody)}.`] : []),
    ...(unpoured.includes(true)
      ? [
          `Compared with the reference, which has not been scored: ${named(unpoured)}. Pour it among the mixes.`,
        ]
      : []),
  ];
  return {
    attributes: attributes.map((attribute, k) =>
      nobody[k] || unpoured[k] ? { ...attribute, target: null } : attribute,
    ),
    missing,
    unscored,
  };
}

/** The display name of an id, or the id itself. */
export function calledBy(names: Names, id: string): string {
  return Object.hasOwn(names, id) ? names[id]! : id;
}
