import type { TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { Care, Figures, PageHead, Warnings } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { briefAim } from '../reading/aims-of.ts';
import { nowOf } from '../story.ts';

/** Where the trial stands, and the way on. */
export function StoryPage({ trial }: { trial: TrialView }) {
  const now = nowOf(trial);
  return (
    <>
      <PageHead title={trial.name}>{trial.stands}</PageHead>
      {trial.demo && (
        <Care>
          <p>
            <strong>Invented.</strong> People, scores, reference and effects of this trial are made up for
            teaching. Its formula is neither tested nor approved.
          </p>
        </Care>
      )}
      <div class="row">
        <a class="button do" href={now.address}>
          Go on: {now.label.toLowerCase()}
        </a>
      </div>
      <Warnings of={trial.warnings} />
      <h2>What it must taste like</h2>
      <Table
        caption="Questions to the tasters and their targets"
        quietCaption
        rows={trial.brief.attributes}
        columns={[
          { head: 'Question', cell: ({ name }) => name },
          { head: 'Aim', cell: briefAim },
        ]}
      />
      <h2>What it is made from</h2>
      <Table
        caption="Allowed parts of a hundred of each component"
        rows={trial.brief.components}
        columns={[
          { head: 'Component', cell: ({ name }) => name },
          { head: 'at least', value: ({ low }) => 100 * low },
          { head: 'at most', value: ({ high }) => 100 * high },
        ]}
      />
      <Cautions trial={trial} />
      <h2>Rounds</h2>
      <Rounds trial={trial} />
    </>
  );
}

function Cautions({ trial }: { trial: TrialView }) {
  const { cautions } = trial.brief;
  if (cautions.length === 0) return null;
  return (
    <>
      <h2>Cautions</h2>
      <p>{count(cautions.length, 'caution')} in the brief, shown to who tastes, weighs and reads the card.</p>
      <Figures says="read them">
        <ul>
          {cautions.map(({ to, text }) => (
            <li key={text}>
              <span class="soft">{to}:</span> {text}
            </li>
          ))}
        </ul>
      </Figures>
    </>
  );
}

function Rounds({ trial }: { trial: TrialView }) {
  if (trial.roundViews.length === 0) return <p class="soft">None yet.</p>;
  return (
    <ul>
      {trial.roundViews.map((round) => (
        <li key={round.round}>
          Round {round.round}: {count(round.mixes.length, 'mix', 'mixes')},{' '}
          {count(
            round.sittings.reduce((sum, sitting) => sum + sitting.cups, 0),
            'cup',
          )}
          , {round.state === 'read' ? 'read' : 'under way'}
        </li>
      ))}
    </ul>
  );
}
