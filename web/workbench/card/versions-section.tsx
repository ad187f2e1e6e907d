import { useState } from 'preact/hooks';
import type { Card, TrialView } from '../../../trials/schema/api.ts';
import { compareCards } from '../../sheets/card-differences.ts';
import { when } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import { saveText } from '../parts/save-file.ts';
import { Table } from '../parts/table.tsx';
import { printAddress } from '../routes.ts';
import { cardNames } from './names.ts';

/** Published versions: each to print and to save, and any two side by side. */
export function VersionsSection({ trial, cards }: { trial: TrialView; cards: readonly Card[] }) {
  if (cards.length === 0) return null;
  return (
    <section>
      <h2>Published versions</h2>
      <ul>
        {[...cards].reverse().map((card) => (
          <li key={card.version}>
            <a href={printAddress(trial.trial, 'card', { version: card.version })}>Version {card.version}</a>,{' '}
            {when(card.at)}
            {card.note !== '' && `, ${card.note}`}{' '}
            <button type="button" class="quiet small" onClick={() => saveFormula(card)}>
              save the formula<span class="unseen"> of version {card.version}</span>
            </button>
          </li>
        ))}
      </ul>
      {cards.length > 1 && <Compared trial={trial} cards={cards} />}
    </section>
  );
}

function saveFormula({ formula, version }: Card): void {
  saveText(`formula-${version}.json`, `${JSON.stringify(formula, null, 2)}\n`, 'application/json');
}

function Compared({ trial, cards }: { trial: TrialView; cards: readonly Card[] }) {
  const [first, setFirst] = useState(String(cards.at(-2)!.version));
  const [second, setSecond] = useState(String(cards.at(-1)!.version));
  const find = (version: string) => cards.find((card) => String(card.version) === version)!;
  const options = cards.map(({ version }) => [String(version), `version ${version}`] as const);
  return (
    <>
      <h3>Two versions side by side</h3>
      <div class="fields">
        <Choice label="This" value={first} options={options} change={setFirst} />
        <Choice label="beside" value={second} options={options} change={setSecond} />
      </div>
      <Table
        caption="Two versions line by line; shares in parts of a hundred, flavour as this panel should score it"
        rows={compareCards(find(first), find(second), cardNames(trial))}
        columns={[
          { head: '', cell: ({ what }) => what },
          { head: `version ${first}`, number: true, cell: ({ was }) => was },
          {
            head: `version ${second}`,
            number: true,
            cell: ({ was, is }) => (was === is ? is : <strong>{is}</strong>),
          },
        ]}
      />
    </>
  );
}
