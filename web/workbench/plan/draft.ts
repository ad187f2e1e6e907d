import { draftJudge } from '../../../engine/design/judge-draft.ts';
import type { PlannedPlace } from '../../../engine/design/plan-types.ts';
import type { TrialView } from '../../../trials/schema/api.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { sharesOf } from '../desk/weighable.ts';
import { weighedMixes } from '../reading/reading-view.ts';
import type { PlanDocument, PlannedMix } from '../results.ts';

/** What the maker changed of a plan: mixes held as they are, unwanted ones, and moved ones in steps of the balance. */
export interface Draft {
  held: ReadonlySet<string>;
  unwanted: ReadonlySet<string>;
  moved: ReadonlyMap<string, readonly number[]>;
}

export const UNCHANGED: Draft = { held: new Set(), unwanted: new Set(), moved: new Map() };

export function withHeld(draft: Draft, mix: string, hold: boolean): Draft {
  return {
    ...draft,
    held: withOrWithout(draft.held, mix, hold),
    unwanted: withOrWithout(draft.unwanted, mix, false),
  };
}

/** An unwanted mix is neither held nor moved. */
export function withUnwanted(draft: Draft, mix: string, unwanted: boolean): Draft {
  const moved = new Map(draft.moved);
  if (unwanted) moved.delete(mix);
  return {
    held: unwanted ? withOrWithout(draft.held, mix, false) : draft.held,
    unwanted: withOrWithout(draft.unwanted, mix, unwanted),
    moved,
  };
}

/** A mix put elsewhere by hand is held there; null puts it back. */
export function withMoved(draft: Draft, mix: string, steps: readonly number[] | null): Draft {
  const moved = new Map(draft.moved);
  if (steps === null) moved.delete(mix);
  else moved.set(mix, steps);
  return { ...draft, held: withOrWithout(draft.held, mix, steps !== null), moved };
}

export function isChanged({ held, unwanted, moved }: Draft): boolean {
  return held.size + unwanted.size + moved.size > 0;
}

function withOrWithout(set: ReadonlySet<string>, name: string, inside: boolean): ReadonlySet<string> {
  const next = new Set(set);
  if (inside) next.add(name);
  else next.delete(name);
  return next;
}

/** Shares of a mix where it stands in the draft. */
export function sharesIn(trial: TrialView, draft: Draft, mix: PlannedMix): number[] {
  const moved = draft.moved.get(mix.mix);
  if (moved !== undefined) return [...sharesOf(moved)];
  return trial.brief.components.map(({ id }) => mix.ratios[id] ?? 0);
}

/** The mixes of a draft that are to be made. */
export function placesIn(trial: TrialView, plan: PlanDocument, draft: Draft): PlannedPlace[] {
  return plan.mixes
    .filter(({ mix }) => !draft.unwanted.has(mix))
    .map((mix) => ({
      shares: sharesIn(trial, draft, mix),
      settings: trial.brief.settings.map(({ id }) => mix.settings[id]!),
    }));
}

/** Judges drafts of a plan; null for plans that were stored without what that takes. */
function judgeFor(trial: TrialView, plan: PlanDocument) {
  if (plan.basis === undefined) return null;
  const { settings } = trial.brief;
  const already = weighedMixes(trial)
    .filter(({ settings: own }) => settings.every(({ id }) => own[id] !== undefined))
    .map(({ shares, settings: own }) => ({ shares, settings: settings.map(({ id }) => own[id]!) }));
  const space = toBlendSpace(trial.brief);
  return draftJudge({ space, basis: plan.basis, precision: plan.prior?.precision, already });
}

/** The average variance of any draft of a plan; null where it cannot be judged or settles too little. */
export function judgeOf(trial: TrialView, plan: PlanDocument): ((draft: Draft) => number | null) | null {
  const judge = judgeFor(trial, plan);
  return judge && ((draft) => judge(placesIn(trial, plan, draft))?.average ?? null);
}

/** The variance of a prediction at any shares, settings in the middle; null where it cannot be told. */
export function varianceOf(
  trial: TrialView,
  plan: PlanDocument,
  draft: Draft,
): ((shares: readonly number[]) => number) | null {
  const judged = judgeFor(trial, plan)?.(placesIn(trial, plan, draft));
  if (!judged) return null;
  const settings = trial.brief.settings.map(({ low, high }) => (low + high) / 2);
  return (shares) => judged.varianceAt({ shares, settings });
}

/** A place of the plan as the server takes it. */
export function asPlace(trial: TrialView, draft: Draft, mix: PlannedMix) {
  const shares = sharesIn(trial, draft, mix);
  return {
    ratios: Object.fromEntries(trial.brief.components.map(({ id }, i) => [id, shares[i]!])),
    settings: mix.settings,
  };
}

/** What a change does, in words: variance against that of the plan as it was found. */
export function costWords(found: number | null, changed: number | null): string {
  if (found === null) return 'What this costs cannot be told: the plan itself cannot settle all it asks.';
  if (changed === null) return 'Too little would be left to tell the components apart.';
  const more = Math.round(100 * (changed / found - 1));
  if (more === 0) return 'This costs nothing: predictions stay as certain as they are.';
  return more > 0
    ? `This costs certainty: predictions would be ${more} % less certain.`
    : `Predictions would be ${-more} % more certain.`;
}
