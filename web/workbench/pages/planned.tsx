import type { RoundMix, RoundView, TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { BlendBar } from '../parts/blend-bar.tsx';
import { MixLines } from '../parts/mix-lines.tsx';
import { Onward } from '../parts/onward.tsx';
import { Figures, PageHead } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';

/** What this round was planned to be, and why each mix is in it. */
export function PlannedPage({ trial, round }: { trial: TrialView; round: RoundView }) {
  return (
    <>
      <PageHead title={`Round ${round.round}: the plan`}>
        {count(round.mixes.length, 'mix', 'mixes')} in{' '}
        {count(new Set(round.mixes.map(({ blend }) => blend)).size, 'bottle')}, to rest {round.restHours}{' '}
        hours before tasting.
      </PageHead>
      <h2>The mixes</h2>
      <ol class="mixes">
        {round.mixes.map((mix) => (
          <PlannedMixEntry key={mix.mix} trial={trial} mix={mix} />
        ))}
      </ol>
      <Onward trial={trial} round={round} step="plan" />
    </>
  );
}

function PlannedMixEntry({ trial, mix }: { trial: TrialView; mix: RoundMix }) {
  return (
    <li>
      <h3>{mix.mix}</h3>
      <p>
        {mix.why}{' '}
        {mix.repeats !== null && !mix.why.includes(mix.repeats) && `A fresh weighing of ${mix.repeats}.`}{' '}
        {mix.again && <Term is="again">Poured again.</Term>}{' '}
        {mix.blend !== mix.mix && `From the bottle ${mix.blend}.`}
      </p>
      <BlendBar components={trial.brief.components} ratios={mix.planned.ratios} />
      <Figures says="in grams">
        <MixLines
          brief={trial.brief}
          mix={mix.mix}
          ratios={mix.planned.ratios}
          masses={mix.planned.grams}
          settings={mix.planned.settings}
        />
      </Figures>
    </li>
  );
}
