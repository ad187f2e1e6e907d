import { z } from 'zod';
import type { TrialView } from '../schema/api.ts';
import { checkBrief } from '../schema/check-brief.ts';
import { Concentrations, LadderKept, Three } from '../schema/ladder-shapes.ts';
import { asStoreError } from '../store/store-error.ts';
import { LATER_TABLES, TRIAL_TABLES, type TrialDocument } from '../store/trial-document.ts';
import type { Context } from './context.ts';
import { findTrial } from './find.ts';
import { ladderViews } from './ladder-view.ts';
import { badInput, conflict, Refusal } from './refusal.ts';
import { drawTrialId } from './tokens.ts';
import { trialView } from './trial-view.ts';

const Cell = z.union([z.string(), z.number(), z.null()]);
const Rows = z.array(z.record(z.string(), Cell));
const Document = z.object({
  format: z.literal('trial/1'),
  tables: z.object(
    Object.fromEntries(
      TRIAL_TABLES.map((table) => [table, LATER_TABLES.includes(table) ? Rows.default([]) : Rows]),
    ),
  ),
});

/** A whole trial as one document: briefs, rounds, weighings, sittings, every answer, results and acts. */
export function exportTrial(context: Context, trial: string): TrialDocument {
  findTrial(context.store, trial);
  return context.store.documents.write(trial);
}

/**
 * A trial from such a document, whole or not at all. It keeps its id where that is free and is given a new one where
 * not. Links do not travel: tasters of an open sitting need new ones.
 */
export function importTrial(context: Context, value: unknown): TrialView {
  const parsed = Document.safeParse(value);
  if (!parsed.success) throw badInput('document', 'something else', 'a trial as it was exported (trial/1)');
  const document = parsed.data as unknown as TrialDocument;
  const [head, ...more] = document.tables.trials;
  if (!head || more.length > 0) throw badInput('tables.trials', document.tables.trials.length, 'one trial');
  refuseBadBriefs(document);
  refuseBadLadders(document);
  const { store } = context;
  const wanted =
    typeof head['trial'] === 'string' && /^[a-z0-9]{1,40}$/.test(head['trial']) ? head['trial'] : '';
  const trial = wanted === '' || store.trials.find(wanted) ? drawTrialId() : wanted;
  readWhole(context, document, trial);
  return trialView(context, trial);
}

function readWhole(context: Context, document: TrialDocument, trial: string): void {
  const { store } = context;
  try {
    store.write(() => {
      store.documents.read(document, trial);
      trialView(context, trial);
      refuseLooseLadders(context, trial);
      store.acts.add(null, {
        at: context.now().toISOString(),
        who: context.who,
        act: 'imported a trial',
        detail: trial,
      });
    });
  } catch (thrown) {
    if (thrown instanceof Refusal || asStoreError(thrown)?.fault !== 'broken-rule') throw thrown;
    throw conflict('the document does not hold together: nothing was imported');
  }
}

function refuseBadBriefs({ tables }: TrialDocument): void {
  tables.briefs.forEach((row, index) => {
    const judged = checkBrief(parsedOr(row['brief']));
    if ('faults' in judged)
      throw new Refusal('bad-input', `tables.briefs[${index}]: ${judged.faults[0]?.message}`, judged.faults);
  });
}

function refuseBadLadders({ tables }: TrialDocument): void {
  tables.ladders.forEach(({ concentrations }, index) => {
    if (!Concentrations.safeParse(parsedOr(concentrations)).success)
      throw badInput(`tables.ladders[${index}].concentrations`, concentrations, 'rising mg a litre');
  });
  tables.ladder_trays.forEach(({ threes }, index) => {
    if (!z.array(Three).safeParse(parsedOr(threes)).success)
      throw badInput(`tables.ladder_trays[${index}].threes`, threes, 'three cups a rung, one of them odd');
  });
}

/** Cups and answers must belong to the rungs of their ladder. */
function refuseLooseLadders({ store }: Context, trial: string): void {
  for (const view of ladderViews(store, trial))
    if (!LadderKept.safeParse(view).success)
      throw conflict(`ladder ${view.ladder} of the document does not hold together: nothing was imported`);
}

function parsedOr(text: unknown): unknown {
  try {
    return JSON.parse(String(text));
  } catch {
    return null;
  }
}
