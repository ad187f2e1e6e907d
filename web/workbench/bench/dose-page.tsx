import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { figure } from '../numbers.ts';
import { Onward } from '../parts/onward.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { doseLines, ethanolOf } from './dosing.ts';
import { MarkDone } from './mark-done.tsx';

/** From concentrate to drink: how much of each bottle goes into how much drink. */
export function DosePage({ trial, round }: { trial: TrialView; round: RoundView }) {
  const { brief } = trial;
  const cups = brief.panel.assessors * brief.panel.replicates;
  const mixes = round.mixes.map(({ mix, planned }) => ({ mix, settings: planned.settings }));
  const lines = doseLines(brief, mixes, cups);
  const small = lines.some(({ concentrate }) => concentrate !== null && concentrate < 0.5);
  return (
    <>
      <PageHead title={`Round ${round.round}: dose`}>
        Nothing neat is tasted.{' '}
        {brief.drink ? `The drink: ${brief.drink.name}.` : 'The brief does not say which drink.'}
      </PageHead>
      {brief.drink === undefined ? (
        <p class="soft">Name the drink in the brief, and the doses stand here.</p>
      ) : (
        <Table
          caption={`For ${cups} cups of ${brief.drink.cupMillilitres} mL, a tenth over`}
          rows={lines}
          columns={[
            { head: 'Mix', cell: ({ mix }) => mix },
            { head: 'dose, mL per L', number: true, cell: ({ perLitre }) => figure(perLitre) },
            { head: 'drink, mL', number: true, cell: ({ drink }) => figure(drink) },
            { head: 'concentrate, mL', number: true, cell: ({ concentrate }) => figure(concentrate) },
            {
              head: 'or tenfold diluted, mL',
              number: true,
              cell: ({ concentrate }) => figure(concentrate === null ? null : concentrate * 10),
            },
          ]}
        />
      )}
      {small && (
        <Care>
          <p>
            Less than half a millilitre is hard to measure. Dilute each concentrate tenfold in its own alcohol
            first, and count the ethanol of that dilution too.
          </p>
        </Care>
      )}
      <EthanolLine
        trial={trial}
        doses={lines.flatMap(({ perLitre }) => (perLitre === null ? [] : [perLitre]))}
      />
      <MarkDone trial={trial} round={round} step="dose" says="The drinks are dosed" then="pour" />
      <Onward trial={trial} round={round} step="dose" />
    </>
  );
}

function EthanolLine({ trial, doses }: { trial: TrialView; doses: readonly number[] }) {
  const { brief } = trial;
  const cups = brief.panel.cupsPerSitting;
  const most = doses.length === 0 ? null : ethanolOf(brief, Math.max(...doses), cups);
  if (most === null)
    return <p class="soft">How much ethanol a taster drinks cannot be told from this brief.</p>;
  const cap = brief.caps?.ethanolGramsPerSitting;
  const over = cap !== undefined && most > cap;
  const says = `At the highest dose, ${cups} cups hold ${figure(most, 2)} g of ethanol straight from the concentrate`;
  return over ? (
    <Care>
      <p>
        <strong>Over the cap.</strong> {says}; the brief allows {cap} g a sitting.
      </p>
    </Care>
  ) : (
    <p>
      {says}
      {cap === undefined ? '.' : `; the brief allows ${cap} g a sitting.`}
    </p>
  );
}
