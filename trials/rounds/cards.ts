import { z } from 'zod';
import type { Card, CardRequest } from '../schema/card.ts';
import { isProofMix } from '../schema/proof-mix.ts';
import type { Store } from '../store/store.ts';
import { type Context, record, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { type Best, cardFigures } from './make-card.ts';
import { ownLimitsIn } from './own-limits.ts';
import { readTest } from './read-test.ts';
import { badInput, notFound } from './refusal.ts';
import { shelfIn } from './shelf-view.ts';

const byId = z.record(z.string(), z.number());
const Proposals = z.object({
  best: z.object({
    ratios: byId,
    grams: byId,
    settings: byId.default({}),
    predicted: z
      .record(z.string(), z.object({ mean: z.number(), interval: z.tuple([z.number(), z.number()]) }))
      .default({}),
    chance: z.number().nullable().default(null),
    distance: z.number().nullable().default(null),
  }),
});

type Asked = z.infer<typeof CardRequest>;

/** The card as it would be published: the best of stored proposals, with everything that can be told of it. */
export function draftCard(context: Context, trial: string, request: Asked): Card {
  const { store } = context;
  const { brief } = findTrial(store, trial).latest;
  const found = store.readings.find(trial, request.reading);
  if (!found) throw notFound('the set of proposals');
  if (found.kind !== 'next') throw badInput('reading', request.reading, 'a set of proposals, with its best');
  if ((found.input as { whatIf?: unknown } | null)?.whatIf !== undefined)
    throw badInput(
      'reading',
      request.reading,
      'proposals for the brief as it stands, not a trial of other targets',
    );
  const best: Best = Proposals.parse(found.result).best;
  const at = timeOf(context);
  const { batch, cautions } = brief;
  const figures = cardFigures(brief, best, { shelf: shelfIn(store), limits: ownLimitsIn(store) });
  const own = cautions
    .filter(({ to }) => to === 'label')
    .map(({ text }) => ({ about: 'label', text, source: 'the brief' }));
  return {
    version: store.cards.list(trial).length + 1,
    at,
    name: brief.name,
    note: request.note,
    ...{ ratios: best.ratios, grams: best.grams, settings: best.settings, predicted: best.predicted },
    ...{ chance: best.chance, distance: best.distance },
    sizes: request.sizes ?? [batch.grams, 10 * batch.grams, 100 * batch.grams],
    ...figures,
    cautions: [...own, ...figures.cautions],
    evidence: evidenceOf(store, trial),
    ageing: request.weeks.map((weeks) => ({
      weeks,
      due: new Date(Date.parse(at) + weeks * 7 * 86_400_000).toISOString().slice(0, 10),
    })),
  };
}

/** Publishes the next version. What is published is never changed. */
export function publishCard(context: Context, trial: string, request: Asked): Card {
  return context.store.write(() => {
    const card = draftCard(context, trial, request);
    context.store.cards.add(trial, request.reading, card);
    record(context, trial, 'published the card', `version ${card.version}`);
    return card;
  });
}

/** One version of the card. @throws Refusal `not-found` */
export function findCard({ store }: Context, trial: string, version: number): Card {
  findTrial(store, trial);
  const card = store.cards.list(trial).find((one) => one.version === version);
  if (!card) throw notFound(`version ${version} of the card`);
  return card;
}

/** What the formula was held against at a sitting. */
function against(store: Store, trial: string, sitting: string): string {
  const poured = new Set(store.sittings.cups(trial, sitting).map(({ mix }) => mix));
  const others = [...poured].filter((mix) => !isProofMix(mix));
  if (others.length !== 1 || poured.size !== 2) return '';
  return ` against ${others[0] === 'reference' ? 'the reference' : others[0]}`;
}

function evidenceOf(store: Store, trial: string): Card['evidence'] {
  const sittings = store.sittings.list(trial).filter(({ key }) => key === 'opened');
  const seats = sittings.flatMap(({ sitting }) => store.sittings.seats(trial, sitting));
  const answers = sittings.reduce(
    (sum, { sitting }) => sum + store.answers.counted(trial, sitting, false).length,
    0,
  );
  const proofs = sittings
    .filter(({ manner }) => manner.test?.claim !== undefined)
    .flatMap(({ sitting }) => {
      const { claim } = readTest(store, { trial, sitting });
      if (claim === null) return [];
      return [`${claim.shown ? 'Shown' : 'Not shown'}${against(store, trial, sitting)}: ${claim.says}`];
    });
  return {
    rounds: new Set(sittings.map(({ round }) => round)).size,
    sittings: sittings.length,
    tasters: new Set(seats.map(({ assessor }) => assessor)).size,
    answers,
    proofs,
  };
}
