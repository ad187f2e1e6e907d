import type { RoundView, StepName, TrialView } from '../../../trials/schema/api.ts';
import { stepAddress, trialAddress } from '../routes.ts';
import { STEPS } from '../words.ts';

const ORDER = Object.keys(STEPS) as StepName[];

/** Back and on along the round, at the foot of each step. */
export function Onward({ trial, round, step }: { trial: TrialView; round: RoundView; step: StepName }) {
  const before = ORDER[ORDER.indexOf(step) - 1];
  const after = ORDER[ORDER.indexOf(step) + 1];
  const state = round.steps.find((one) => one.step === step);
  return (
    <nav class="onward" aria-label="Along the round">
      {before ? (
        <a href={stepAddress(trial.trial, round.round, before)}>Back: {STEPS[before].toLowerCase()}</a>
      ) : (
        <span />
      )}
      <span class="soft">{state?.says}</span>
      {after ? (
        <a href={stepAddress(trial.trial, round.round, after)}>On: {STEPS[after].toLowerCase()}</a>
      ) : (
        <a href={trialAddress(trial.trial, 'next')}>On: next mixes</a>
      )}
    </nav>
  );
}
