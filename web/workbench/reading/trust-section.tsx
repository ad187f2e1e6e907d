import { listed, probability } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import { readOf } from '../results.ts';
import type { ReadingView } from './reading-view.ts';
import {
  ageSentences,
  panelSentence,
  shiftsSentence,
  shownSentence,
  standingOut,
  type TasterTrust,
  trustOf,
} from './trust.ts';

/** Can we trust the panel? One row a taster with a sentence, of a large panel those who stand out; figures one click behind. */
export function TrustSection({ view }: { view: ReadingView }) {
  const rows = trustOf(view.panel, view.nameOf);
  const { shown, others } = standingOut(rows);
  const shifts = shiftsSentence(view.panel, view.nameOf);
  return (
    <section>
      <h2>Can we trust the panel?</h2>
      <p class="lead">{panelSentence(view.panel, view.nameOf)}</p>
      {shifts && (
        <p>
          {shifts} To count these shifts, run <code>panel</code> with <code>--assessor-by-session</code>.
        </p>
      )}
      <AgeWords of={ageSentences(readOf(view.stored).panel, view.nameOf)} />
      {rows.length > 0 && <Legend row={rows[0]!} />}
      {others.length > 0 && <p>{shownSentence(rows, shown)}</p>}
      <TasterRows rows={shown} />
      {others.length > 0 && (
        <Figures says={`the other ${others.length} tasters`}>
          <TasterRows rows={others} />
        </Figures>
      )}
      <Figures says="where the scores’ spread comes from">
        <Table
          caption="Variance of scores, by where it comes from; – where it cannot be told"
          rows={view.panel}
          columns={[
            { head: 'Question', cell: ({ id }) => view.nameOf(id) },
            { head: 'tasters', value: ({ variance }) => variance['assessor'] },
            {
              head: 'taster by mix',
              value: ({ variance }) => variance['assessorByMix'],
            },
            { head: 'sittings', value: ({ variance }) => variance['session'] },
            { head: 'single cup', value: ({ variance }) => variance['residual'] },
            { head: 'mixes differ, p', number: true, cell: ({ mixTest }) => probability(mixTest?.p) },
          ]}
        />
      </Figures>
    </section>
  );
}

function TasterRows({ rows }: { rows: readonly TasterTrust[] }) {
  if (rows.length === 0) return null;
  return (
    <ul class="tasters">
      {rows.map((row) => (
        <TasterRow key={row.assessor} row={row} />
      ))}
    </ul>
  );
}

/** What the drops stand for, in the order in which each row has them. */
function Legend({ row: { marks } }: { row: TasterTrust }) {
  return (
    <p class="small soft">
      A drop for each question: {listed(marks.map(({ name }) => name))}. Full: ranks the mixes as the others
      do; half: only loosely; empty: the other way round; dotted: cannot be told.
    </p>
  );
}

/** Bottles of several ages: what that did to the scores, or why it cannot be told. */
function AgeWords({ of }: { of: readonly string[] }) {
  if (of.length === 0) return null;
  if (of.length === 1) return <p>{of[0]}</p>;
  return (
    <>
      <p>The bottles were tasted at several ages:</p>
      <ul>
        {of.map((says) => (
          <li key={says}>{says}</li>
        ))}
      </ul>
    </>
  );
}

function TasterRow({ row }: { row: TasterTrust }) {
  return (
    <li>
      <span class="who">{row.assessor}</span>
      <span class="marks" role="img" aria-label={marksInWords(row)}>
        {row.marks.map(({ attribute, ranking, name }) => (
          <span key={attribute} title={`${name}: ${SAYS[ranking]}`} class={`drop ${LOOKS[ranking]}`} />
        ))}
      </span>
      <div>
        <p>
          {row.setAside && <span class="soft">Set aside. </span>}
          {row.sentence}
        </p>
        <Figures says={`figures of ${row.assessor}`}>
          <TasterFigures row={row} />
        </Figures>
      </div>
    </li>
  );
}

const LOOKS = { 'as the others': '', loosely: 'half', against: 'empty', unknown: 'empty unknown' } as const;
const SAYS = {
  'as the others': 'ranks the mixes as the others do',
  loosely: 'ranks them only loosely as the others do',
  against: 'ranks them against the others',
  unknown: 'cannot be judged',
} as const;

function marksInWords({ marks }: TasterTrust): string {
  const same = marks.filter(({ ranking }) => ranking === 'as the others');
  return `Ranks the mixes as the others do on ${same.length} of ${marks.length} questions`;
}

function TasterFigures({ row }: { row: TasterTrust }) {
  return (
    <>
      <Table
        caption={`${row.assessor}, question by question`}
        quietCaption
        rows={row.marks}
        columns={[
          { head: 'Question', cell: ({ name }) => name },
          {
            head: <Term is="agreement">agreement</Term>,
            value: ({ reading }) => reading?.agreement,
            digits: 2,
          },
          {
            head: <Term is="scaling">scale used</Term>,
            value: ({ reading }) => reading?.scaling,
          },
          { head: 'higher by', value: ({ reading }) => reading?.offset },
          {
            head: <Term is="repeatability">repeats within</Term>,
            value: ({ reading }) => reading?.repeatability,
          },
          {
            head: <Term is="discrimination">alone tells apart, p</Term>,
            number: true,
            cell: ({ reading }) => probability(reading?.discrimination.p),
          },
        ]}
      />
      <ul>
        {row.marks.map(({ attribute, name, reading }) => (
          <li key={attribute}>
            {name}: {reading?.says ?? 'nothing scored.'}
          </li>
        ))}
      </ul>
    </>
  );
}
