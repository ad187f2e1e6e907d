import { useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import type { AimedAttribute } from '../../charts/aims.ts';
import { profileChart } from '../../charts/profile-chart.ts';
import { chance, figure } from '../numbers.ts';
import { AcceptRound } from '../parts/accept-round.tsx';
import { BlendBar } from '../parts/blend-bar.tsx';
import { Chart } from '../parts/chart.tsx';
import { profileSays } from '../parts/chart-words.ts';
import { Check } from '../parts/field.tsx';
import { MixLines, settingsSay } from '../parts/mix-lines.tsx';
import { Figures, Warnings } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';
import { aimsOf } from '../reading/aims-of.ts';
import { viewOf } from '../reading/reading-view.ts';
import { type Candidate, inputOf, type NextResult, nextOf, type Proposal } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { candidateProfile } from './candidate-profile.ts';
import { OthersWeigh } from './others-weigh.tsx';
import { priceOf } from './price.ts';
import { RoundsSection } from './rounds-section.tsx';
import { SpentSection } from './spent.tsx';
import { type Tried, triedInWords } from './what-if.tsx';

interface ShownProps {
  trial: TrialView;
  stored: Reading;
  read: Reading | null;
  /** Something was tasted since: these are to be looked at, not to be made. */
  stale: boolean;
}

/** Advice, the best so far, proposals beside it; each can be left out before a round is made of them. */
export function ProposalsShown({ trial, stored, read, stale }: ShownProps) {
  const result = nextOf(stored);
  const tried = stored.input as Tried;
  const asked = { ...trial, brief: inputOf(stored).brief };
  const view = read === null ? null : viewOf(asked, read);
  const attributes = view?.attributes ?? aimsOf(asked.brief, () => null);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  // what was stored before check mixes were offered has none
  const check = result.checkMix ?? null;
  const [checked, setChecked] = useState(false);
  const kept = [
    ...result.proposals.filter(({ mix }) => !left.has(mix)),
    ...(check !== null && checked ? [check] : []),
  ];
  const turn = (mix: string, keep: boolean) => {
    const next = new Set(left);
    if (keep) next.delete(mix);
    else next.add(mix);
    setLeft(next);
  };
  const words = triedInWords(trial.brief, tried);
  return (
    <>
      {words.length > 0 && (
        <p class="lead">
          Tried out: {words.join('; ')}.{' '}
          {tried.whatIf !== undefined &&
            'The brief stands as it was, so these mixes cannot be made a round. '}
          <a href={trialAddress(trial.trial, 'next')}>Back to the brief as it stands</a>
        </p>
      )}
      <StopAdvice trial={trial} result={result} />
      <Warnings of={result.warnings} />
      <PredictedProfiles result={result} attributes={attributes} />
      <BestSoFar trial={trial} result={result} attributes={attributes} />
      {view !== null && <RoundsSection view={view} />}
      <SpentSection trial={trial} />
      <h2>Worth making next</h2>
      {result.proposals.map((proposal) => (
        <ProposalEntry
          key={proposal.mix}
          trial={trial}
          proposal={proposal}
          attributes={attributes}
          kept={!left.has(proposal.mix)}
          turn={turn}
        />
      ))}
      {check !== null && (
        <>
          <h2>One more, if you want to know which model is right</h2>
          <ProposalEntry
            trial={trial}
            proposal={check}
            attributes={attributes}
            kept={checked}
            turn={(_, keep) => setChecked(keep)}
          />
        </>
      )}
      <p>All together: {priceOf(trial.brief, kept)}</p>
      {tried.whatIf === undefined && !stale && (
        <AcceptRound
          trial={trial}
          of={{
            reading: stored.reading,
            ...(left.size > 0 || checked ? { only: kept.map(({ mix }) => mix) } : {}),
          }}
        />
      )}
    </>
  );
}

function StopAdvice({ trial, result }: { trial: TrialView; result: NextResult }) {
  const { advised, because, before, after, holdsBack = [], limits = [] } = result.stop;
  return (
    <section class="advice">
      <p class="lead">
        <strong>{advised ? 'Stop here.' : 'Go on.'}</strong> {withoutWhy(because, holdsBack)}
      </p>
      <p class="small soft">
        <Term is="distance">Distance</Term> expected at the best ratio: {figure(before, 2)} points of 100 now,{' '}
        {figure(after, 2)} once the mixes below are tasted.
      </p>
      {holdsBack.length + limits.length > 0 && (
        <>
          <h3>What holds it back</h3>
          <ul>
            {holdsBack.map(({ attribute, says }) => (
              <li key={attribute}>{`${says.charAt(0).toUpperCase()}${says.slice(1)}.`}</li>
            ))}
            {limits.map((one) => (
              <li key={one.limit}>
                {one.limit} is in the way: {figure(one.to, 3)} instead is expected to bring the distance from{' '}
                {figure(one.before, 2)} to {figure(one.after, 2)} points.
              </li>
            ))}
          </ul>
        </>
      )}
      {advised && (
        <p>
          <a href={trialAddress(trial.trial, 'proof')}>Prove it blind</a>,{' '}
          <a href={trialAddress(trial.trial, 'card')}>write the card</a>, or{' '}
          <a href={trialAddress(trial.trial, 'brief')}>change the brief</a>.
        </p>
      )}
    </section>
  );
}

/** The reason as far as the list below does not tell it again. */
function withoutWhy(because: string, holdsBack: NextResult['stop']['holdsBack']): string {
  const told = holdsBack.map(({ says }) => because.indexOf(says)).filter((at) => at > 0);
  if (told.length === 0) return because;
  return `${because
    .slice(0, Math.min(...told))
    .replace(/( What holds it back)?:? *$/, '')
    .replace(/\.$/, '')}.`;
}

interface BestProps {
  trial: TrialView;
  result: NextResult;
  attributes: readonly AimedAttribute[];
}

function BestSoFar({ trial, result, attributes }: BestProps) {
  const { best } = result;
  return (
    <section class="candidate best">
      <h2>If tasting stopped now</h2>
      <ChanceLine trial={trial} candidate={best} attributes={attributes} />
      <p class="small soft">
        <Term is="distance">Distance</Term> to the target: {figure(best.distance, 2)} points of 100.
      </p>
      <BlendBar components={trial.brief.components} ratios={best.ratios} />
      <Grams trial={trial} candidate={best} mix="the best so far" />
      <OthersWeigh brief={trial.brief} result={result} />
    </section>
  );
}

interface EntryProps {
  trial: TrialView;
  proposal: Proposal;
  attributes: readonly AimedAttribute[];
  kept: boolean;
  turn: (mix: string, keep: boolean) => void;
}

function ProposalEntry({ trial, proposal, attributes, kept, turn }: EntryProps) {
  return (
    <section class={`candidate ${kept ? '' : 'left-out'}`}>
      <h3>
        {proposal.mix}
        {proposal.again && (
          <>
            , <Term is="again">poured again</Term>
          </>
        )}
      </h3>
      <p>{proposal.why}</p>
      <ChanceLine trial={trial} candidate={proposal} attributes={attributes} />
      <BlendBar components={trial.brief.components} ratios={proposal.ratios} />
      <Grams trial={trial} candidate={proposal} mix={proposal.mix} />
      <p class="small soft">
        {priceOf(trial.brief, [proposal])}
        {!proposal.again && (
          <>
            {' '}
            <a href={deskAddress(trial, proposal)}>Change it on the desk</a>
          </>
        )}
      </p>
      <Check checked={kept} change={(keep) => turn(proposal.mix, keep)}>
        make this one
      </Check>
    </section>
  );
}

function deskAddress({ trial, brief }: TrialView, { ratios, settings }: Candidate): string {
  const at = brief.components.map(({ id }) => Number((ratios[id] ?? 0).toFixed(6))).join(',');
  return trialAddress(trial, 'desk', { at, ...settings });
}

function ChanceLine({
  candidate,
  attributes,
}: {
  trial: TrialView;
  candidate: Candidate;
  attributes: readonly AimedAttribute[];
}) {
  const own = attributes.flatMap(({ id, name }) => {
    const one = candidate.predicted[id]?.chance;
    return one === undefined || one === null ? [] : [{ name, one }];
  });
  return (
    <>
      <p class="chance">
        {chance(candidate.chance)} <span class="small soft">is the </span>
        <span class="small soft">
          <Term is="chance">chance</Term> of a match
        </span>
      </p>
      {own.length > 0 && (
        <ul class="own-chances">
          {own.map(({ name, one }) => (
            <li key={name}>
              {name}: {chance(one)}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function Grams({ trial, candidate, mix }: { trial: TrialView; candidate: Candidate; mix: string }) {
  const says = settingsSay(trial.brief, candidate.settings);
  return (
    <>
      {says !== '' && <p class="small">{says}</p>}
      <Figures says="in grams">
        <MixLines
          brief={trial.brief}
          mix={mix}
          ratios={candidate.ratios}
          masses={candidate.grams}
          settings={{}}
        />
      </Figures>
    </>
  );
}

function PredictedProfiles({
  result,
  attributes,
}: {
  result: NextResult;
  attributes: readonly AimedAttribute[];
}) {
  const data = candidateProfile(result, attributes);
  return (
    <Chart
      title={data.title}
      summary={`${profileSays(data)} Rings are what the models expect of this panel’s average, whiskers their 95 % intervals; the outlined band is what counts as a match.${
        attributes.some(({ aim }) => aim?.kind === 'toward')
          ? ' An arrow points to the end that is aimed at.'
          : ''
      }`}
      of={result}
      spec={(frame) => profileChart(data, frame)}
      table={{
        head: ['mix', 'question', 'predicted', 'from', 'to'],
        rows: data.points.map(({ mix, attribute, mean, low, high }) => [
          mix,
          attributes.find(({ id }) => id === attribute)?.name ?? attribute,
          mean,
          low,
          high,
        ]),
      }}
    />
  );
}
