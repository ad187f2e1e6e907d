import { z } from 'zod';
import { Id, Name } from './brief.ts';
import { LEAST_RUNGS, MOST_RUNGS } from './ladder-rungs.ts';

const CupCode = z.string().regex(/^[1-9]\d\d$/, 'a code from 100 to 999');

/** Three cups of one rung for one taster; one of them holds the component. */
export const Three = z
  .object({ codes: z.array(CupCode).length(3), odd: CupCode })
  .refine(({ codes, odd }) => new Set(codes).size === 3 && codes.includes(odd), {
    message: 'three different codes, the odd one among them',
  });
export type Three = z.infer<typeof Three>;

/** mg in a litre of drink, rung by rung. */
export const Concentrations = z
  .array(z.number().gt(0))
  .min(LEAST_RUNGS)
  .max(MOST_RUNGS)
  .refine((list) => list.every((c, k) => k === 0 || c > list[k - 1]!), { message: 'rising, rung by rung' });

const differ = (list: readonly string[]) => new Set(list).size === list.length;

/** A ladder whose cups are to be drawn. */
export const LadderRequest = z.object({
  component: Id,
  concentrations: Concentrations,
  tasters: z.array(Name).min(1).max(500).refine(differ, { message: 'each taster once' }),
});

/** One taster's cups, lowest rung first, and the code of each rung that was called the odd one. */
export const LadderTray = z
  .object({
    taster: Name,
    threes: z.array(Three),
    /** Null where nothing has been said. */
    named: z.array(CupCode.nullable()),
  })
  .refine(({ threes, named }) => named.every((code, k) => code === null || threes[k]?.codes.includes(code)), {
    message: 'on each rung one of its three cups, or null',
    path: ['named'],
  });
export type LadderTray = z.infer<typeof LadderTray>;

/** A ladder that was drawn before ladders were part of the data: cups and answers as they stand. */
export const LadderKept = z
  .object({ component: Id, concentrations: Concentrations, trays: z.array(LadderTray).min(1).max(500) })
  .refine(({ trays }) => differ(trays.map(({ taster }) => taster)), {
    message: 'each taster once',
    path: ['trays'],
  })
  .refine(
    ({ concentrations: { length }, trays }) =>
      trays.every(({ threes, named }) => threes.length === length && named.length === length),
    { message: 'three cups and one answer for every rung', path: ['trays'] },
  );
export type LadderKept = z.infer<typeof LadderKept>;

/** A ladder with all that was answered on it. */
export const LadderView = z.object({
  ladder: z.int(),
  component: z.string(),
  concentrations: z.array(z.number()),
  trays: z.array(LadderTray),
  drawn: z.string(),
  /** Since when it is put away; null while it is in use. */
  away: z.string().nullable(),
});
export type LadderView = z.infer<typeof LadderView>;

/** Which cup a taster called the odd one on a rung (1 = lowest); null takes an answer back. */
export const LadderAnswers = z.object({
  answers: z
    .array(z.object({ taster: Name, rung: z.int().min(1).max(MOST_RUNGS), code: CupCode.nullable() }))
    .min(1)
    .max(5000),
});
export type LadderAnswers = z.infer<typeof LadderAnswers>;
