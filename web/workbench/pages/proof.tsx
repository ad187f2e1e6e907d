import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { isProofMix } from '../../../trials/schema/proof-mix.ts';
import { useLoaded } from '../loaded.ts';
import { chance, score } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Choice } from '../parts/field.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { ProofForm } from '../proof/proof-form.tsx';
import { briefAim } from '../reading/aims-of.ts';
import { latest, nextOf } from '../results.ts';
import { stepAddress, trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { isProof } from '../story.ts';
import { openTrialOf } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';

/** The blind proof of the formula, in the same steps as every tasting: weigh, pour, taste, read. */
export function ProofPage({ trial }: { trial: TrialView }) {
  const reading = latest(trial, 'next');
  const rounds = trial.roundViews.filter(isProof);
  return (
    <>
      <PageHead title="Proof">
        A forecast is no proof. The formula is weighed afresh and poured blind: that too few can tell it from
        the reference, or that it beats the one you have, is then shown, or not.
      </PageHead>
      {rounds.map((round) => (
        <OneProof key={round.round} trial={trial} round={round} />
      ))}
      {rounds.some(({ state }) => state === 'read') && !trial.published && (
        <p>
          <a class="button do" href={trialAddress(trial.trial, 'card')}>
            On: card
          </a>
        </p>
      )}
      {reading === null ? (
        <p>
          There is no formula yet: read a round and{' '}
          <a href={trialAddress(trial.trial, 'next')}>ask for the next mixes</a> first.
        </p>
      ) : (
        <NewProof trial={trial} reading={reading} again={rounds.length > 0} />
      )}
    </>
  );
}

function OneProof({ trial, round }: { trial: TrialView; round: RoundView }) {
  const formula = round.mixes.find(({ mix }) => isProofMix(mix))!;
  const tests = round.sittings.filter(({ test }) => test !== null);
  return (
    <section aria-label={`Proof in round ${round.round}`}>
      <h2>
        Round {round.round}: {formula.mix} against {opponentOf(round) ?? 'the reference'}
      </h2>
      {tests.map(({ sitting, label, key, answers, answersExpected, state }) =>
        key === 'opened' ? (
          <Proved key={sitting} trial={trial} sitting={sitting} label={label} />
        ) : (
          <p key={sitting}>
            <a
              href={stepAddress(trial.trial, round.round, state === 'poured' ? 'pour' : 'taste', { sitting })}
            >
              {label}
            </a>
            : {answers} of {answersExpected} answers. It is read once the key is open.
          </p>
        ),
      )}
      {formula.weighed === null ? (
        <p>
          <a class="button do" href={stepAddress(trial.trial, round.round, 'weigh')}>
            Weigh it afresh
          </a>
        </p>
      ) : (
        <details open={tests.length === 0}>
          <summary>{tests.length === 0 ? 'Plan the blind tasting' : 'Plan another blind tasting'}</summary>
          <ProofForm trial={trial} round={round} formula={formula.mix} against={opponentOf(round)} />
        </details>
      )}
    </section>
  );
}

/** The earlier mix that a proof is held against; null for the reference. */
function opponentOf({ mixes }: RoundView): string | null {
  return mixes.find(({ again }) => again)?.mix ?? null;
}

const KINDS = {
  alike: ['Shown: close enough', 'Not shown'],
  different: ['Shown: they differ', 'Not shown'],
  preferred: ['Shown: it is preferred', 'Not shown'],
} as const;

function Proved({ trial, sitting, label }: { trial: TrialView; sitting: string; label: string }) {
  const [found, again] = useLoaded(`claim ${sitting}`, () =>
    ask('readTest', { trial: trial.trial, sitting }),
  );
  return (
    <Await of={found} what="the answers" again={again}>
      {({ claim, result }) => (
        <div class="proved">
          <p class="chance">
            {claim === null ? 'No claim was fixed' : KINDS[claim.kind][claim.shown ? 0 : 1]}
            <span class="small soft"> {label}</span>
          </p>
          <p>{claim?.says ?? result?.says ?? 'Nobody has answered.'}</p>
        </div>
      )}
    </Await>
  );
}

function NewProof({ trial, reading, again }: { trial: TrialView; reading: string; again: boolean }) {
  const [loaded, reload] = useLoaded(reading, () => ask('readShown', { trial: trial.trial, reading }));
  const { busy, trouble, run } = useAct();
  const mixes = [...new Set(trial.roundViews.flatMap((round) => round.mixes.map(({ mix }) => mix)))].filter(
    (mix) => !isProofMix(mix),
  );
  const byReference = trial.brief.attributes.some(({ target }) => target === 'reference');
  const [against, setAgainst] = useState(byReference ? '' : (mixes[0] ?? ''));
  const start = () =>
    run(async () => {
      const goOn = wayOn();
      const body = { reading, against: against === '' ? null : against };
      const round = await ask('startProof', { trial: trial.trial }, body);
      await openTrialOf(trial.trial);
      goOn(stepAddress(trial.trial, round.round, 'weigh'));
    });
  return (
    <section>
      <h2>{again ? 'Prove the formula as it stands now' : 'What would be proved'}</h2>
      <Await of={loaded} what="the formula" again={reload}>
        {(stored) => {
          const { best } = nextOf(stored);
          return (
            <>
              <p>
                The best so far: {chance(best.chance)} that it matches on every attribute. What this panel
                should say of it:
              </p>
              <Table
                caption="What this panel should say of it"
                quietCaption
                rows={trial.brief.attributes.filter(({ id }) => best.predicted[id] !== undefined)}
                columns={[
                  { head: 'Attribute', cell: ({ name, id }) => name || id },
                  {
                    head: 'Score',
                    number: true,
                    cell: ({ id, scale }) => score(best.predicted[id]!.mean, scale),
                  },
                  {
                    head: '95 % interval',
                    number: true,
                    cell: ({ id, scale }) =>
                      best.predicted[id]!.interval.map((end) => score(end, scale)).join(' to '),
                  },
                  { head: 'Aim', cell: briefAim },
                ]}
              />
            </>
          );
        }}
      </Await>
      <Care>
        <p>
          Weigh it anew for this, by another person if you can: the recipe is proved, not one lucky bottle.
        </p>
      </Care>
      <Choice
        label="Held against"
        class="narrow-choice"
        value={against}
        options={[['', 'the reference'], ...mixes.map((mix) => [mix, `${mix}, an earlier mix`] as const)]}
        change={setAgainst}
      />
      <p>
        <button type="button" class={again ? undefined : 'do'} disabled={busy} onClick={() => void start()}>
          Make the round that proves it
        </button>
      </p>
      <Trouble of={trouble} />
    </section>
  );
}
