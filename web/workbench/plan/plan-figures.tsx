import { figure, termWords } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import type { PlanDocument } from '../results.ts';
import { MODELS } from '../words.ts';

/** What a statistician asks of a plan. */
export function PlanFigures({ plan, seed }: { plan: PlanDocument; seed: number }) {
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
      <Judged plan={plan} />
      <p class="small soft">Terms: {plan.terms.map(termWords).join(', ')}</p>
    </Figures>
  );
}

/** Variance over the region, terms that depend on each other, and what each mix carries. */
function Judged({ plan: { judgement, mixes, sittingsCost } }: { plan: PlanDocument }) {
  if (!judgement) return null;
  return (
    <>
      <dl class="figures">
        <dt>Variance of a difference of two mixes, on average</dt>
        <dd class="number">{figure(judgement.pairVariance)}</dd>
        <dt>Condition</dt>
        <dd class="number">{figure(judgement.condition)}</dd>
        <dt>Variance with sittings taken out, over that without</dt>
        <dd class="number">{figure(sittingsCost)}</dd>
      </dl>
      <Table
        caption="Variance that this part of the region does not exceed"
        rows={judgement.reach}
        columns={[
          { head: 'part of the region', cell: ({ fraction }) => `${Math.round(100 * fraction)} %` },
          { head: 'variance', value: ({ variance }) => variance },
        ]}
      />
      <Table
        caption="Coefficients that depend on each other most"
        rows={judgement.correlations}
        columns={[
          { head: 'terms', cell: ({ a, b }) => `${a}, ${b}` },
          { head: 'correlation', value: ({ correlation }) => correlation },
        ]}
      />
      <Table
        caption="What each mix carries"
        rows={mixes}
        columns={[
          { head: 'mix', cell: ({ mix }) => mix },
          { head: 'leverage', value: ({ leverage }) => leverage },
          {
            head: 'variance if it is lost',
            number: true,
            cell: ({ lost }) => (lost === null ? 'not all terms' : `× ${figure(lost)}`),
          },
        ]}
      />
    </>
  );
}
