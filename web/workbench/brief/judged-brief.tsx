import type { Brief } from '../../../trials/schema/brief.ts';
import type { Judgement } from '../../../trials/schema/judgement.ts';
import { apart, inCurrency } from '../../../trials/schema/money.ts';
import { useLoaded } from '../loaded.ts';
import { figure } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { ClearChain, chainGist } from '../parts/clear-chain.tsx';
import { Figures, Warnings } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { ask } from '../server.ts';

/** What the saved brief allows at the most, held against limits and caps. */
export function JudgedBrief({ brief }: { brief: Brief }) {
  const [loaded, again] = useLoaded(JSON.stringify(brief), () => ask('judgeBrief', {}, brief), {
    keeps: true,
  });
  return (
    <Await of={loaded} what="the limits" again={again} leads>
      {(judged) => (
        <section aria-label="Limits and caps">
          <Warnings of={judged.warnings} />
          {judged.drink !== null && (
            <Figures says={saysOf(judged)}>
              <LimitTable judged={judged} />
              <p class="small soft">
                At the highest dose of {figure(judged.drink.dosePerLitre)} mL a litre and the ratio that holds
                most of each. No legal verdict: look the sources up, and ask who answers for the law where you
                sell.
              </p>
              <CapLines judged={judged} currency={brief.currency} />
            </Figures>
          )}
          {judged.chain.length > 0 && (
            <Figures says={chainGist(judged.chain)}>
              <ClearChain of={judged.chain} />
            </Figures>
          )}
        </section>
      )}
    </Await>
  );
}

function saysOf({ substances }: Judgement): string {
  const rows = substances.flatMap(({ limits }) => limits);
  const over = rows.filter(({ exceeded }) => exceeded === true).length;
  if (rows.length === 0) return 'No limit speaks of what this brief names';
  return over === 0
    ? `${rows.length} rules looked at, none exceeded`
    : `${over} of ${rows.length} rules exceeded`;
}

function LimitTable({ judged }: { judged: Judgement }) {
  const rows = judged.substances.flatMap(({ substance, mostMgPerKg, limits }) =>
    limits.map((limit) => ({ substance, mostMgPerKg, ...limit })),
  );
  if (rows.length === 0) return null;
  return (
    <Table
      caption="The most that this brief lets into the drink, and what the rules say"
      rows={rows}
      columns={[
        { head: 'Substance', cell: ({ substance }) => substance },
        {
          head: 'most',
          number: true,
          cell: ({ unit, mostMgPerKg }) =>
            unit === '% vol' ? `${figure(judged.drink?.percentVol)} % vol` : `${figure(mostMgPerKg)} mg/kg`,
        },
        {
          head: 'rule',
          cell: ({ kind, limit, unit, only }) =>
            `${kind}${limit === null || kind.startsWith('banned') ? '' : ` ${limit} ${unit}`}${only === null ? '' : `, ${only}`}`,
        },
        { head: 'where', cell: ({ jurisdiction, source }) => `${jurisdiction}: ${source}` },
        {
          head: 'row',
          cell: ({ own, verified }) => (own ? 'own figure' : verified ? 'verified' : 'not verified'),
        },
        {
          head: 'found',
          cell: ({ exceeded }) =>
            exceeded === null ? 'for you to judge' : exceeded ? <strong>exceeded</strong> : 'kept',
        },
      ]}
    />
  );
}

function CapLines({
  judged: { ethanol, cost },
  currency,
}: {
  judged: Judgement;
  currency: string | undefined;
}) {
  return (
    <dl class="figures">
      <dt>Ethanol a taster and sitting</dt>
      <dd>
        {ethanol.gramsPerSitting === null
          ? 'cannot be told from this brief'
          : `${figure(ethanol.gramsPerSitting)} g${ethanol.diluted ? ', through the tenfold dilution' : ''}${ethanol.cap === null ? '' : ` of ${ethanol.cap} g`}`}
      </dd>
      <dt>Cost of a litre of drink</dt>
      <dd>
        {cost.mostPerLitre === null || cost.leastPerLitre === null
          ? `not known: ${cost.because}`
          : `${apart(figure(cost.leastPerLitre))} to ${inCurrency(figure(cost.mostPerLitre), currency)}${cost.cap === null ? '' : `, of ${apart(String(cost.cap))}`} (${cost.because})`}
      </dd>
    </dl>
  );
}
