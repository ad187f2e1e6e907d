import { PageHead } from '../parts/page.tsx';
import type { Lesson } from '../routes.ts';
import { GuessBench } from './guess-bench.tsx';
import { KnownAnswers } from './known-answers.tsx';
import { OpenBlindPage } from './open-blind-page.tsx';

/** Three lessons, each with a page of its own. */
export function TeachingPage({ lesson, query }: { lesson: Lesson | null; query: URLSearchParams }) {
  if (lesson === null) return <Lessons />;
  const number = Math.max(1, Math.floor(Number(query.get('drink')) || 1));
  return (
    <>
      <p class="small">
        <a href="#/teaching">Lessons</a>
      </p>
      {lesson === 'answers' && <KnownAnswers />}
      {lesson === 'guess' && <GuessBench key={number} number={number} />}
      {lesson === 'openly' && <OpenBlindPage />}
    </>
  );
}

function Lessons() {
  return (
    <>
      <PageHead title="Lessons">Alone or with a class; nothing here touches your trials.</PageHead>
      <ul class="trials">
        <li>
          <a class="name" href="#/teaching/guess">
            Find the drink
          </a>
          <p class="stands">
            Mix after a hidden drink, let invented tasters compare the two blind, and guess.
          </p>
        </li>
        <li>
          <a class="name" href="#/teaching/openly">
            Openly and blind
          </a>
          <p class="stands">
            The same pair with and without names on the glass: what knowing does to scores.
          </p>
        </li>
        <li>
          <a class="name" href="#/teaching/answers">
            Data with known answers
          </a>
          <p class="stands">
            Published experiments to read yourself first; the answers are one click behind.
          </p>
        </li>
      </ul>
    </>
  );
}
