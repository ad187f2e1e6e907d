import type { TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { chance, figure } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { BlendBar } from '../parts/blend-bar.tsx';
import { MixLines } from '../parts/mix-lines.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { latest, nextOf } from '../results.ts';
import { printAddress, trialAddress } from '../routes.ts';
import { ask } from '../server.ts';

/** The formula as it stands, with its evidence and its cautions. */
export function CardPage({ trial }: { trial: TrialView }) {
  const reading = latest(trial, 'next');
  if (reading === null)
    return (
      <>
        <PageHead title="Card">
          There is no formula yet: read a round and look for the next mixes first.
        </PageHead>
        <a href={trialAddress(trial.trial, 'next')}>Next mixes</a>
      </>
    );
  return <StandingFormula trial={trial} reading={reading} />;
}

function StandingFormula({ trial, reading }: { trial: TrialView; reading: string }) {
  const [loaded, again] = useLoaded(reading, () => ask('readReading', { trial: trial.trial, reading }));
  return (
    <>
      <PageHead title="Card">The formula as it stands, with what speaks for it and what to mind.</PageHead>
      <Await of={loaded} what="the formula" again={again}>
        {(stored) => {
          const { best } = nextOf(stored);
          return (
            <>
              <p class="chance">
                {chance(best.chance)} <span class="small soft">chance of a match; not yet proved blind</span>
              </p>
              <p class="soft">Expected distance to the target: {figure(best.distance, 2)} points of 100.</p>
              <BlendBar components={trial.brief.components} ratios={best.ratios} />
              <MixLines
                brief={trial.brief}
                mix="the formula"
                ratios={best.ratios}
                masses={best.grams}
                settings={best.settings}
              />
              <div class="row">
                <a class="button do" href={printAddress(trial.trial, 'card', { reading })}>
                  Print the card
                </a>
              </div>
              <LabelCautions trial={trial} />
            </>
          );
        }}
      </Await>
    </>
  );
}

function LabelCautions({ trial }: { trial: TrialView }) {
  const cautions = trial.brief.cautions.filter(({ to }) => to === 'label');
  if (cautions.length === 0) return null;
  return (
    <Care>
      <ul>
        {cautions.map(({ text }) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </Care>
  );
}
