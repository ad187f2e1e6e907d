import { useMemo } from 'preact/hooks';
import { MIXTURE_LESSONS, type MixtureLesson, WINE } from '../../../trials/teaching/published.ts';
import { probability } from '../numbers.ts';
import { PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { readLesson, readWine } from './lesson-reading.ts';

/** Published data whose answer is known: look, guess, then open what this program reads and what was published. */
export function KnownAnswers() {
  return (
    <>
      <PageHead title="Data with known answers">
        Published experiments. Look at the numbers, say what you would conclude, then open the answers.
      </PageHead>
      {MIXTURE_LESSONS.map((lesson) => (
        <Mixture key={lesson.id} lesson={lesson} />
      ))}
      <Wine />
    </>
  );
}

function Mixture({ lesson }: { lesson: MixtureLesson }) {
  const { title, find, components, runs, response, answer, source } = lesson;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <p>{find}</p>
      <Unfold says="The data">
        <Table
          caption={`${response.name}, ${response.unit}, of each run`}
          rows={runs}
          columns={[
            ...components.map(({ name }, k) => ({
              head: name,
              number: true,
              cell: ({ shares }: (typeof runs)[number]) => String(shares[k]),
            })),
            { head: response.name, number: true, cell: ({ value }) => String(value) },
          ]}
        />
      </Unfold>
      <Unfold says="What Dropwise reads">
        <MixtureReading lesson={lesson} />
      </Unfold>
      <Unfold says="The answer">
        <p>{answer.says}</p>
        <p class="small soft">
          Coefficients {answer.by}:{' '}
          {Object.entries(answer.coefficients)
            .map(([term, value]) => `${termName(lesson, term)} ${value}`)
            .join(', ')}
          .
        </p>
      </Unfold>
      <p class="small soft">Source: {source}</p>
    </section>
  );
}

function termName({ components }: MixtureLesson, term: string): string {
  return term
    .split('*')
    .map((id) => components.find((one) => one.id === id)?.name ?? id)
    .join(' × ');
}

function MixtureReading({ lesson }: { lesson: MixtureLesson }) {
  const { fit, best } = useMemo(() => readLesson(lesson), [lesson]);
  return (
    <>
      <p>
        Highest at{' '}
        {lesson.components
          .map(({ name }, k) => [name, best.shares[k]!] as const)
          .filter(([, share]) => share > 0)
          .map(([name, share]) => `${Math.round(100 * share)} ${name}`)
          .join(', ')}{' '}
        (parts of 100): {best.value.toFixed(1)} {lesson.response.unit}.
      </p>
      <Table
        caption="What each component and each pair brings"
        rows={fit.coefficients}
        columns={[
          { head: 'Term', cell: ({ term }) => termName(lesson, term) },
          { head: 'estimate', value: ({ estimate }) => estimate, digits: 4 },
          { head: 'standard error', value: ({ standardError }) => standardError },
          { head: 'p', number: true, cell: ({ p }) => probability(p) },
        ]}
      />
    </>
  );
}

function Wine() {
  return (
    <section aria-label={WINE.title}>
      <h2>{WINE.title}</h2>
      <p>{WINE.find}</p>
      <Unfold says="The data">
        <Table
          caption="Ratings of bitterness, 1 to 5, by nine judges"
          rows={WINE.ratings.map((text, judge) => ({ text, judge }))}
          columns={[
            { head: 'Judge', cell: ({ judge }) => judge + 1 },
            ...WINE.bottles.map(({ warm, skins }, bottle) => ({
              head: `${bottle + 1}: ${warm ? 'warm' : 'cold'}${skins ? ', skins' : ''}`,
              number: true,
              cell: ({ text }: { text: string }) => text[bottle],
            })),
          ]}
        />
      </Unfold>
      <Unfold says="What Dropwise reads">
        <WineReading />
      </Unfold>
      <Unfold says="The answer">
        <p>{WINE.answer.says}</p>
        <p class="small soft">{WINE.answer.by}.</p>
      </Unfold>
      <p class="small soft">Source: {WINE.source}</p>
    </section>
  );
}

function WineReading() {
  const fit = useMemo(readWine, []);
  return (
    <Table
      caption="How far each moves a rating, in logits, judges held apart"
      rows={fit.coefficients}
      columns={[
        { head: 'What', cell: ({ name }) => name },
        { head: 'estimate', value: ({ estimate }) => estimate, digits: 4 },
        { head: 'standard error', value: ({ standardError }) => standardError },
        { head: 'p', number: true, cell: ({ p }) => probability(p) },
      ]}
    />
  );
}
