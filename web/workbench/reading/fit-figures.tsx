import { probability, termWords } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import type { AttributeFit } from '../results.ts';
import { MODELS } from '../words.ts';
import type { ReadingView } from './reading-view.ts';

/** Every number of the fits, for the statistician. */
export function FitFigures({ view }: { view: ReadingView }) {
  return (
    <Figures says="how the ratios were tied to the scores: models, coefficients, tests">
      <Table
        caption="The models"
        rows={view.fit}
        columns={[
          { head: 'Question', cell: ({ id }) => view.nameOf(id) },
          { head: 'model', cell: ({ model }) => MODELS[model ?? ''] ?? model ?? '–' },
          { head: 'R², centred', value: ({ rSquared }) => rSquared },
          {
            head: 'left-out mixes, q²',
            value: ({ leaveOneMixOut: left }) => (left?.reason ? null : left?.q2),
          },
          {
            head: 'root mean square error',
            value: ({ leaveOneMixOut: left }) => (left?.reason ? null : left?.rmse),
          },
          { head: 'ratios matter, p', number: true, cell: ({ blending }) => probability(blending?.p) },
          { head: 'lack of fit, p', number: true, cell: ({ lackOfFit }) => probability(lackOfFit?.p) },
        ]}
      />
      <LeftOut view={view} />
      {view.fit.map((fit) => (
        <Coefficients key={fit.id} name={view.nameOf(fit.id)} fit={fit} />
      ))}
    </Figures>
  );
}

/** Why no figure stands where mixes were left out one after another; said once where it is the same for all. */
function LeftOut({ view }: { view: ReadingView }) {
  const reasons = new Set(view.fit.flatMap(({ leaveOneMixOut }) => leaveOneMixOut?.reason ?? []));
  return [...reasons].map((reason) => (
    <p key={reason} class="small soft">
      Left-out mixes: {reason}.
    </p>
  ));
}

function Coefficients({ name, fit }: { name: string; fit: AttributeFit }) {
  return (
    <Figures says={name}>
      <Table
        caption={`Coefficients of ${name}`}
        rows={fit.coefficients}
        columns={[
          { head: 'Term', cell: ({ term }) => termWords(term) },
          { head: 'estimate', value: ({ estimate }) => estimate, digits: 4 },
          { head: 'standard error', value: ({ standardError }) => standardError },
          { head: 'degrees of freedom', value: ({ denDf }) => denDf },
          { head: 'p', number: true, cell: ({ p }) => probability(p) },
        ]}
      />
      {fit.warnings?.map((line) => (
        <p key={line} class="small">
          {line}
        </p>
      ))}
    </Figures>
  );
}
