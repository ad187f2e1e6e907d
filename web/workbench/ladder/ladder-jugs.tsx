import { weighingUncertainty } from '../../../engine/bench/balance.ts';
import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { figure, grams, readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';
import { Table } from '../parts/table.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { jugMillilitres, stockGrams } from './ladder.ts';

interface JugsProps {
  trial: TrialView;
  ladder: LadderView;
  /** Percent by mass of the stock, as typed. */
  stock: string;
  change: (stock: string) => void;
}

/** What goes into the jug of each rung, and which cup is filled from it. */
export function LadderJugs({ trial, ladder, stock, change }: JugsProps) {
  const { batch, drink } = trial.brief;
  const strength = readNumber(stock);
  const jug = jugMillilitres(ladder.trays.length, drink?.cupMillilitres ?? 30);
  const known = strength !== null && strength > 0 && strength <= 100;
  const rows = ladder.concentrations.map((perLitre, k) => ({
    rung: k + 1,
    perLitre,
    weigh: known ? stockGrams(perLitre, jug, strength) : null,
  }));
  return (
    <section>
      <h2>Pour</h2>
      <div class="fields">
        <Field
          label="Weighed from a stock of"
          number
          unit="% by mass"
          class="narrow"
          value={stock}
          change={change}
          fault={known ? undefined : 'above 0, up to 100'}
        />
      </div>
      <Table
        caption={`Into ${figure(jug)} mL of drink for each rung, one cup each and a tenth over`}
        rows={rows}
        columns={[
          { head: 'Rung', number: true, cell: ({ rung }) => String(rung) },
          { head: 'mg a litre', number: true, cell: ({ perLitre }) => figure(perLitre) },
          {
            head: 'of the stock, g',
            number: true,
            cell: ({ weigh }) => (weigh === null ? '–' : grams(weigh, batch.readability)),
          },
          {
            head: 'known to',
            number: true,
            cell: ({ weigh }) =>
              weigh === null || weigh === 0
                ? '–'
                : `${figure((100 * weighingUncertainty(batch)) / weigh, 2)} %`,
          },
        ]}
      />
      <p class="soft">
        Give the drink without it as much of the stock’s alcohol, or the alcohol is what they find. A weaker
        stock is weighed better.
      </p>
      <Unfold says="which cup holds it: not for eyes that will taste">
        <Table
          caption="The odd cup of each three"
          rows={ladder.trays}
          columns={[
            { head: 'Taster', cell: ({ taster }) => taster },
            ...ladder.concentrations.map((_, k) => ({
              head: `rung ${k + 1}`,
              cell: ({ threes }: LadderView['trays'][number]) => threes[k]!.odd,
            })),
          ]}
        />
      </Unfold>
    </section>
  );
}
