import type { z } from 'zod';
import type { RoundView, TrialSummary, TrialView } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { isProofMix } from '../schema/proof-mix.ts';
import type { Context } from './context.ts';
import { findTrial } from './find.ts';
import { pouringRanks } from './pouring-ranks.ts';
import { roundViews } from './round-view.ts';
import { shelfIn } from './shelf-view.ts';

type Summary = z.infer<typeof TrialSummary>;
type FoundTrial = ReturnType<typeof findTrial>;

/** All trials, the last changed first. */
export function listTrials(context: Context): Summary[] {
  const { store } = context;
  return store.trials.list().map(({ trial }) => {
    const rounds = roundViews(context, trial);
    return summaryOf(findTrial(store, trial), rounds, publishedVersion(context, trial, rounds));
  });
}

/** One trial with its rounds. */
export function trialView(context: Context, trial: string): TrialView {
  const found = findTrial(context.store, trial);
  const rounds = roundViews(context, trial);
  const version = publishedVersion(context, trial, rounds);
  return {
    ...summaryOf(found, rounds, version),
    brief: found.latest.brief,
    briefVersion: found.latest.version,
    warnings: found.latest.warnings,
    pouring: pouringRanks(found.latest.brief, shelfIn(context.store)),
    roundViews: rounds,
    published: version !== null,
    readings: latestReadings(context, trial),
  };
}

/** The version of the card that holds all rounds, if one is published. */
function publishedVersion({ store }: Context, trial: string, rounds: readonly RoundView[]): number | null {
  const last = store.cards.list(trial).at(-1);
  return last !== undefined && last.evidence.rounds >= rounds.length ? last.version : null;
}

function summaryOf(found: FoundTrial, rounds: readonly RoundView[], version: number | null): Summary {
  const { trial, name, demo, changed, latest } = found;
  const names = namesIn(latest.brief);
  return { trial, name, demo, changed, rounds: rounds.length, stands: standsAt(rounds, version), names };
}

function namesIn({ components, settings, attributes, asides, tags = [] }: Brief): string[] {
  return [...[...components, ...settings, ...attributes, ...asides].map(({ name }) => name), ...tags];
}

/** Where a trial stands, in a sentence. */
function standsAt(rounds: readonly RoundView[], version: number | null): string {
  const latest = rounds.at(-1);
  if (latest === undefined) return 'The brief is written: plan the first mixes.';
  if (version !== null) return `Version ${version} of the card is published.`;
  const now = latest.steps.find(({ state }) => state === 'now');
  if (now === undefined && isProof(latest)) return `Round ${latest.round}: the blind proof is read.`;
  if (now === undefined) return `Round ${latest.round} is read: ask for the next mixes.`;
  return `Round ${latest.round}: ${now.says}`;
}

/** Whether a round proves a formula. */
function isProof({ mixes }: RoundView): boolean {
  return mixes.some(({ mix }) => isProofMix(mix));
}

function latestReadings(context: Context, trial: string): TrialView['readings'] {
  const latest = new Map<string, TrialView['readings'][number]>();
  for (const { reading, kind, round, at } of context.store.readings.heads(trial)) {
    latest.delete(kind);
    latest.set(kind, { reading, kind, round, at });
  }
  return [...latest.values()];
}
