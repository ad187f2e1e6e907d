import { useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import { reachChart } from '../../charts/reach-chart.ts';
import { useLoaded } from '../loaded.ts';
import { count, figure, readNumber } from '../numbers.ts';
import { AcceptRound } from '../parts/accept-round.tsx';
import { Await } from '../parts/await.tsx';
import { BlendBar } from '../parts/blend-bar.tsx';
import { Chart } from '../parts/chart.tsx';
import { Check, Choice, Field } from '../parts/field.tsx';
import { JobProgress, useJob } from '../parts/jobs.tsx';
import { MixLines } from '../parts/mix-lines.tsx';
import { Figures, PageHead, Warnings } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';
import { weighedMixes } from '../reading/reading-view.ts';
import { type PlannedMix, type PlanResult, planOf } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { MODELS } from '../words.ts';
import { priceOf } from './price.ts';

/** Asks for a plan, shows what came of it mix by mix, and makes a round of it. */
export function PlanPage({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  const job = useJob();
  const reading = query.get('reading') ?? latestPlan(trial);
  const start = async (body: PlanBody) => {
    const done = await job.run(trial.trial, () => ask('startPlan', { trial: trial.trial }, body));
    if (done !== null) location.hash = trialAddress(trial.trial, 'plan', { reading: done.reading });
  };
  const first = trial.roundViews.length === 0;
  return (
    <>
      <PageHead title={first ? 'Plan the first mixes' : 'Plan more mixes'}>
        The fewest mixes, all of them weighable on your scale, that teach the most about how the ratios move
        the flavour.
      </PageHead>
      <PlanForm trial={trial} start={(body) => void start(body)} busy={job.job !== null} />
      <JobProgress of={job} what="Planning" />
      {reading !== null && job.job === null && <StoredPlan key={reading} trial={trial} reading={reading} />}
    </>
  );
}

type PlanBody = Parameters<typeof ask<'startPlan'>>[2] & object;

function latestPlan(trial: TrialView): string | null {
  const used = new Set(trial.roundViews.map(({ reading }) => reading));
  return trial.readings.find(({ kind, reading }) => kind === 'plan' && !used.has(reading))?.reading ?? null;
}

const CHOICES = [
  ['', 'the richest that so many mixes can carry'],
  ...Object.entries(MODELS).filter(([id]) =>
    ['linear', 'quadratic', 'special-cubic', 'full-cubic'].includes(id),
  ),
] as [string, string][];

function PlanForm({
  trial,
  start,
  busy,
}: {
  trial: TrialView;
  start: (body: PlanBody) => void;
  busy: boolean;
}) {
  const few = trial.brief.components.length;
  const [mixes, setMixes] = useState(String(Math.max(few + 2, 8)));
  const [model, setModel] = useState('');
  const [replicated, setReplicated] = useState('1');
  const number = readNumber(mixes);
  const again = readNumber(replicated);
  const fault =
    number === null || number < few ? `a whole number of at least ${few}, one a component` : undefined;
  const begin = (event: Event) => {
    event.preventDefault();
    if (fault !== undefined || again === null) return;
    start({ mixes: number!, replicated: again, ...(model === '' ? {} : { model: model as 'linear' }) });
  };
  return (
    <form noValidate onSubmit={begin}>
      <div class="fields">
        <Field label="How many mixes?" number value={mixes} change={setMixes} fault={fault} />
        <Field
          label="Of these weighed twice"
          number
          value={replicated}
          change={setReplicated}
          help="A fresh weighing shows how well you repeat."
        />
      </div>
      <Figures says="what the plan should be able to tell">
        <Choice label={<Term is="model">Model</Term>} value={model} options={CHOICES} change={setModel} />
      </Figures>
      <button type="submit" class="do" disabled={busy}>
        Plan the mixes
      </button>
    </form>
  );
}

function StoredPlan({ trial, reading }: { trial: TrialView; reading: string }) {
  const [loaded, again] = useLoaded(reading, () => ask('readReading', { trial: trial.trial, reading }));
  return (
    <Await of={loaded} what="the plan" again={again}>
      {(stored) => <PlanShown trial={trial} stored={stored} />}
    </Await>
  );
}

function PlanShown({ trial, stored }: { trial: TrialView; stored: Reading }) {
  const plan = planOf(stored);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const kept = plan.mixes.filter(({ mix }) => !left.has(mix));
  const turn = (mix: string, keep: boolean) => {
    const next = new Set(left);
    if (keep) next.delete(mix);
    else next.add(mix);
    setLeft(next);
  };
  return (
    <section>
      <h2>{count(plan.mixes.length, 'mix', 'mixes')}</h2>
      <p>{priceOf(trial.brief, kept)}</p>
      <Warnings of={plan.warnings} />
      <ol class="mixes">
        {plan.mixes.map((mix) => (
          <PlannedEntry key={mix.mix} trial={trial} mix={mix} kept={!left.has(mix.mix)} turn={turn} />
        ))}
      </ol>
      <PlanReach trial={trial} plan={plan} />
      <PlanFigures plan={plan} seed={stored.seed} />
      <AcceptRound
        trial={trial}
        of={{ reading: stored.reading, ...(left.size > 0 ? { only: kept.map(({ mix }) => mix) } : {}) }}
      />
    </section>
  );
}

interface EntryProps {
  trial: TrialView;
  mix: PlannedMix;
  kept: boolean;
  turn: (mix: string, keep: boolean) => void;
}

function PlannedEntry({ trial, mix, kept, turn }: EntryProps) {
  return (
    <li class={kept ? undefined : 'left-out'}>
      <h3>{mix.mix}</h3>
      <p>{mix.why}</p>
      <BlendBar components={trial.brief.components} ratios={mix.ratios} />
      <Figures says="in grams">
        <MixLines
          brief={trial.brief}
          mix={mix.mix}
          ratios={mix.ratios}
          masses={mix.grams}
          settings={mix.settings}
        />
      </Figures>
      <Check checked={kept} change={(keep) => turn(mix.mix, keep)}>
        make this one
      </Check>
    </li>
  );
}

/** How far the plan reaches, beside what has been made already. */
function PlanReach({ trial, plan }: { trial: TrialView; plan: PlanResult }) {
  const made = weighedMixes(trial);
  const ids = trial.brief.components.map(({ id }) => id);
  const partsOf = (shares: readonly number[]) =>
    Object.fromEntries(ids.map((id, i) => [id, 100 * shares[i]!]));
  const data = {
    title: 'How far the mixes reach into what is allowed',
    components: trial.brief.components.map(({ id, low, high }) => ({ id, low: 100 * low, high: 100 * high })),
    mixes: [
      ...plan.mixes.map(({ mix, ratios }) => ({
        mix,
        planned: true,
        parts: partsOf(ids.map((id) => ratios[id] ?? 0)),
      })),
      ...made.map(({ mix, shares }) => ({ mix, planned: false, parts: partsOf(shares) })),
    ],
  };
  return (
    <Chart
      title={data.title}
      summary={
        made.length > 0
          ? 'A stroke for each mix: planned ones in the colour of the liquid, weighed ones in ink.'
          : 'A stroke for each mix on what the brief allows of each component.'
      }
      of={plan}
      spec={(frame) => reachChart(data, frame)}
      table={{
        head: ['mix', ...ids],
        rows: data.mixes.map(({ mix, parts }) => [mix, ...ids.map((id) => parts[id]!)]),
      }}
    />
  );
}

function PlanFigures({ plan, seed }: { plan: PlanResult; seed: number }) {
  return (
    <Figures says="figures for the statistician">
      <dl class="figures">
        <dt>
          <Term is="model">Model</Term>
        </dt>
        <dd>{MODELS[plan.model] ?? plan.model}</dd>
        <dt>
          <Term is="averageVariance">Average variance</Term>
        </dt>
        <dd class="number">{figure(plan.averageVariance)}</dd>
        <dt>
          <Term is="maximumVariance">Largest variance</Term>
        </dt>
        <dd class="number">{figure(plan.maximumVariance)}</dd>
        <dt>
          <Term is="logDeterminant">Logarithm of the determinant</Term>
        </dt>
        <dd class="number">{figure(plan.logDeterminant)}</dd>
        <dt>Corners of the region</dt>
        <dd class="number">{plan.corners.length}</dd>
        <dt>Seed</dt>
        <dd class="number">{seed}</dd>
      </dl>
      <p class="small soft">Terms: {plan.terms.join(', ')}</p>
    </Figures>
  );
}
