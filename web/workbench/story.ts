import type { RoundView, TrialView } from '../../trials/schema/api.ts';
import { isProofMix } from '../../trials/schema/proof-mix.ts';
import { type Place, stepAddress, trialAddress } from './routes.ts';
import { STEPS } from './words.ts';

/** One mark on the spine. */
export interface StoryMark {
  key: string;
  label: string;
  address: string;
  level: 'head' | 'sub';
  state: 'done' | 'now' | 'waiting';
  current: boolean;
}

/** The trial's story from brief to card: what is done, where it stands, what waits. */
export function storyOf(trial: TrialView, place: Place): StoryMark[] {
  const rounds = trial.roundViews;
  const latest = rounds.at(-1);
  const marks: Omit<StoryMark, 'current'>[] = [
    {
      key: 'brief',
      label: 'Brief',
      address: trialAddress(trial.trial, 'brief'),
      level: 'head',
      state: 'done',
    },
  ];
  if (latest === undefined) marks.push(firstPlan(trial));
  for (const round of rounds) marks.push(...roundMarks(trial, round, isOpenOnSpine(round, latest, place)));
  if (latest !== undefined) marks.push(...afterRounds(trial, latest));
  return marks.map((mark) => ({ ...mark, current: isAt(mark.address, place) }));
}

/** What is to be done now: in the latest round, should an earlier one have been left half done. */
export function nowOf(trial: TrialView): StoryMark {
  const marks = storyOf(trial, { page: 'trials' });
  return marks.findLast(({ state }) => state === 'now') ?? marks[marks.length - 1]!;
}

function firstPlan(trial: TrialView): Omit<StoryMark, 'current'> {
  const address = trialAddress(trial.trial, 'plan');
  return { key: 'plan', label: 'Plan the first mixes', address, level: 'head', state: 'now' };
}

function isOpenOnSpine(round: RoundView, latest: RoundView | undefined, place: Place): boolean {
  if (place.page === 'step') return place.round === round.round;
  return round === latest && round.state === 'open';
}

function roundMarks(trial: TrialView, round: RoundView, open: boolean): Omit<StoryMark, 'current'>[] {
  const now = round.steps.find(({ state }) => state === 'now');
  const state = round.state === 'read' && now === undefined ? 'done' : open ? 'done' : 'now';
  const target = now?.step ?? 'read';
  const head: Omit<StoryMark, 'current'> = {
    key: `round-${round.round}`,
    label: `Round ${round.round}`,
    address: stepAddress(trial.trial, round.round, open ? 'plan' : target),
    level: 'head',
    state,
  };
  if (!open) return [head];
  const steps = round.steps.map(({ step, state: stepState }) => ({
    key: `${round.round}-${step}`,
    label: STEPS[step],
    address: stepAddress(trial.trial, round.round, step),
    level: 'sub' as const,
    state: stepState,
  }));
  return [head, ...steps];
}

function afterRounds(trial: TrialView, latest: RoundView): Omit<StoryMark, 'current'>[] {
  const read = latest.state === 'read';
  const published = read && trial.published;
  const proved = published || (read && isProof(latest));
  const after = (at: 'next' | 'proof' | 'card', label: string, state: StoryMark['state']) => ({
    key: at,
    label,
    address: trialAddress(trial.trial, at),
    level: 'head' as const,
    state,
  });
  return [
    after('next', 'Next mixes', proved ? 'done' : read ? 'now' : 'waiting'),
    after('proof', 'Proof', proved ? 'done' : 'waiting'),
    after('card', 'Card', published ? 'done' : proved ? 'now' : 'waiting'),
  ];
}

/** Whether a round proves a formula. */
export function isProof({ mixes }: RoundView): boolean {
  return mixes.some(({ mix }) => isProofMix(mix));
}

function isAt(address: string, place: Place): boolean {
  if (place.page === 'step') return address === stepAddress(place.trial, place.round, place.step);
  return place.page === 'trial' && address === trialAddress(place.trial, place.at);
}
