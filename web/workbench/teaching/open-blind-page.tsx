import { useMemo, useState } from 'preact/hooks';
import type { PairedGap } from '../../../engine/panel/paired-gap.ts';
import { change, readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';
import { PageHead } from '../parts/page.tsx';
import { Scroll } from '../parts/scroll.tsx';
import { Table } from '../parts/table.tsx';
import { Invented } from './invented.tsx';
import { type BlindTray, drawBlindTrays, inventedScores, readOpenBlind, scoreKey } from './open-blind.ts';

/** The same pair poured blind and then openly, and what knowing did to the gap between the two. */
export function OpenBlindPage() {
  const [first, setFirst] = useState('the dear one');
  const [second, setSecond] = useState('the cheap one');
  const [question, setQuestion] = useState('Overall liking, 0 to 100');
  const [names, setNames] = useState('P1, P2, P3, P4, P5, P6');
  const [drawn, setDrawn] = useState<{ trays: BlindTray[]; seed: number } | null>(null);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [invented, setInvented] = useState(false);
  const tasters = [...new Set(names.split(',').map((name) => name.trim()))].filter((name) => name !== '');
  const draw = () => {
    const seed = crypto.getRandomValues(new Uint32Array(1))[0]!;
    setDrawn({ trays: drawBlindTrays(tasters, seed), seed });
    setTyped({});
    setInvented(false);
  };
  const invent = () => {
    const scores = inventedScores(drawn!.trays, drawn!.seed);
    setTyped(Object.fromEntries(Object.entries(scores).map(([key, value]) => [key, String(value)])));
    setInvented(true);
  };
  return (
    <>
      <PageHead title="Openly and blind">
        Pour two drinks blind, then the same two with their names on. Or pour one drink twice and give it two
        names. What did the names do?
      </PageHead>
      <div class="fields">
        <Field label="One drink is" value={first} change={setFirst} />
        <Field label="The other is" value={second} change={setSecond} />
        <Field label="What is asked" value={question} change={setQuestion} />
        <Field label="Who tastes" value={names} change={setNames} help="with commas between; two or more" />
      </div>
      <div class="row">
        <button
          type="button"
          class={drawn === null ? 'do' : undefined}
          disabled={tasters.length < 2 || tasters.length > 200}
          onClick={draw}
        >
          {drawn === null ? 'Draw the codes' : 'Draw anew'}
        </button>
        {drawn !== null && (
          <button type="button" onClick={invent}>
            Let invented tasters answer
          </button>
        )}
      </div>
      {invented && (
        <Invented>These scores are made up: for these tasters the two drinks are the same.</Invented>
      )}
      {drawn !== null && (
        <Sheets
          {...{ first, second, question, typed }}
          trays={drawn.trays}
          type={(key, value) => setTyped({ ...typed, [key]: value })}
        />
      )}
    </>
  );
}

interface SheetsProps {
  trays: readonly BlindTray[];
  first: string;
  second: string;
  question: string;
  typed: Readonly<Record<string, string>>;
  type: (key: string, value: string) => void;
}

function Sheets({ trays, first, second, question, typed, type }: SheetsProps) {
  const name = { first, second };
  const scores = useMemo(
    () => Object.fromEntries(Object.entries(typed).map(([key, value]) => [key, readNumber(value)])),
    [typed],
  );
  const cell = (taster: string, cup: string, says: string) => (
    <input
      class="n"
      inputMode="decimal"
      aria-label={`${taster}: ${says}`}
      value={typed[scoreKey(taster, cup)] ?? ''}
      onInput={(event) => type(scoreKey(taster, cup), event.currentTarget.value)}
    />
  );
  return (
    <>
      <details>
        <summary>For whoever pours: what is in which cup</summary>
        <ul>
          {trays.map(({ taster, cups }) => (
            <li key={taster}>
              {taster}: first {cups[0]!.code} = {name[cups[0]!.drink]}, then {cups[1]!.code} ={' '}
              {name[cups[1]!.drink]}
            </li>
          ))}
        </ul>
      </details>
      <h2>{question}</h2>
      <p class="small soft">Blind first, then openly: who has seen the names cannot taste blind any more.</p>
      <Scroll label="Scores">
        <table class="scores">
          <caption class="unseen">Scores blind and openly</caption>
          <thead>
            <tr>
              <th scope="col">Taster</th>
              <th scope="col">blind, first cup</th>
              <th scope="col">blind, second cup</th>
              <th scope="col">openly, {first}</th>
              <th scope="col">openly, {second}</th>
            </tr>
          </thead>
          <tbody>
            {trays.map(({ taster, cups }) => (
              <tr key={taster}>
                <th scope="row">
                  <span class="row-name">{taster}</span>
                </th>
                {cups.map(({ code }) => (
                  <td key={code}>
                    {code} {cell(taster, code, `blind, cup ${code}`)}
                  </td>
                ))}
                <td>{cell(taster, 'first', `openly, ${first}`)}</td>
                <td>{cell(taster, 'second', `openly, ${second}`)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <Gaps {...readOpenBlind(trays, scores)} first={first} second={second} />
    </>
  );
}

type GapsProps = ReturnType<typeof readOpenBlind> & { first: string; second: string };

function Gaps({ blind, open, knowing, first, second }: GapsProps) {
  if (knowing.interval === null) return null;
  const rows: [string, PairedGap][] = [
    ['blind', blind],
    ['openly', open],
    ['what knowing added', knowing],
  ];
  const [low, high] = knowing.interval;
  const moved = low > 0 || high < 0;
  return (
    <section aria-label="The gap">
      <p class="lead" role="status">
        {moved
          ? `Knowing moved the gap by ${change(knowing.mean!)} points (between ${change(low)} and ${change(high)}).`
          : `These ${knowing.pairs} tasters cannot tell whether knowing moved the gap: by ${change(knowing.mean!)}, between ${change(low)} and ${change(high)}.`}
      </p>
      <Table
        caption={`${first} minus ${second}, average over tasters, with 95 % intervals`}
        rows={rows}
        columns={[
          { head: 'Poured', cell: ([says]) => says },
          { head: 'gap', number: true, cell: ([, gap]) => (gap.mean === null ? '–' : change(gap.mean)) },
          {
            head: 'from … to',
            number: true,
            cell: ([, gap]) =>
              gap.interval === null ? gap.reason : `${change(gap.interval[0])} to ${change(gap.interval[1])}`,
          },
          { head: 'tasters', number: true, cell: ([, gap]) => gap.pairs },
        ]}
      />
    </section>
  );
}
