import type { Difficulty } from '../../engine/aim/rehearsal/invented-truth.ts';
import { type Rehearsal, rehearse } from '../../engine/aim/rehearsal/rehearse.ts';
import type { PlannedMix } from '../../engine/design/plan-types.ts';
import type { WeighedMix } from '../../engine/region/weighed-mix.ts';
import type { Brief } from '../schema/brief.ts';
import { toAttributes } from '../schema/engine-shapes.ts';
import { spaceOf, type Tools } from './documents.ts';
import type { NoiseById } from './weigh-up-plan.ts';

/** What to rehearse a plan against. */
export interface RehearsalRequest {
  difficulty: Difficulty;
  /** Invented truths to play; default 40. */
  truths?: number | undefined;
  /** Rounds after the plan; default 2, each of as many mixes as the brief pours in a sitting. */
  rounds?: number | undefined;
}

const TRUTHS = 40;
const ROUNDS = 2;
/** Mixes of a later round: as many as a sitting holds, within reason. */
const EACH = [2, 6] as const;

/** How often the target would be found with this plan, this panel and this noise, after it and after later rounds. */
export function rehearsePlan(
  brief: Brief,
  by: {
    mixes: readonly PlannedMix[];
    already: readonly WeighedMix[] | undefined;
    noise: NoiseById;
    asked: RehearsalRequest;
    seed: number;
  },
  { solver, hooks }: Tools,
): Rehearsal & { each: number } {
  const { space, batch, stocks } = spaceOf(brief);
  const { assessors, replicates, cupsPerSitting } = brief.panel;
  const planned = by.mixes.map(({ ratios, settings }) => ({
    shares: space.components.map(({ id }) => ratios[id]!),
    settings: space.settings.map(({ id }) => settings[id]!),
  }));
  const each = Math.min(EACH[1], Math.max(EACH[0], cupsPerSitting));
  const { difficulty, truths = TRUTHS, rounds = ROUNDS } = by.asked;
  const result = rehearse(
    {
      ...{ space, batch, stocks, assessors, replicates, cupsPerSitting, difficulty, truths, rounds, each },
      attributes: toAttributes(brief),
      first: [...(by.already ?? []), ...planned],
      noise: brief.attributes.map(({ id }) => by.noise[id]!),
      seed: by.seed,
    },
    { solver },
    hooks,
  );
  return { ...result, each };
}
