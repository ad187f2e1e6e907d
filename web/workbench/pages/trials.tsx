import { useState } from 'preact/hooks';
import type { z } from 'zod';
import type { TrialSummary } from '../../../trials/schema/api.ts';
import { plainText } from '../../../trials/schema/plain-text.ts';
import { useLoaded } from '../loaded.ts';
import { count, when } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { SearchField } from '../parts/field.tsx';
import { PageHead } from '../parts/page.tsx';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';

type Summary = z.infer<typeof TrialSummary>;

/** All trials, newest change first, with a search. */
export function TrialsPage() {
  const [trials, again] = useLoaded('trials', () => ask('listTrials'));
  const [search, setSearch] = useState('');
  return (
    <>
      <PageHead title="Trials" />
      <Await of={trials} what="the trials" again={again}>
        {(list) => (
          <>
            {onlyDemo(list) && <FirstVisit demo={list[0]!} />}
            <div class="row">
              <a class={onlyDemo(list) ? 'button' : 'button do'} href="#/new">
                New trial
              </a>
              <a class="button quiet" href="#/old">
                Bring in old tastings
              </a>
              <a class="button quiet" href="#/teaching">
                Lessons
              </a>
            </div>
            {list.length > 1 && <SearchField label="Search" value={search} change={setSearch} />}
            <TrialList list={list} search={search} />
            <p class="soft">
              <a href="#/copies">Copies of all data, and trials from files</a>
            </p>
          </>
        )}
      </Await>
    </>
  );
}

function onlyDemo(list: readonly Summary[]): boolean {
  return list.length === 1 && list[0]!.demo;
}

function FirstVisit({ demo }: { demo: Summary }) {
  return (
    <>
      <p class="lead">
        Dropwise takes a flavour from a brief to a formula in few mixes, tasted blind. An invented trial is
        laid out for you: a grapefruit and pink pepper soda whose first round six invented people have tasted.
        Read what they said, take the mixes it proposes, and let them taste again.
      </p>
      <div class="row">
        <a class="button do" href={trialAddress(demo.trial)}>
          Open the invented trial
        </a>
      </div>
    </>
  );
}

function TrialList({ list, search }: { list: readonly Summary[]; search: string }) {
  if (list.length === 0)
    return (
      <p class="soft">No trial yet. A new one begins with a brief: what it must taste like, and from what.</p>
    );
  const found = searchTrials(list, search);
  if (found.length === 0) return <p class="soft">No trial speaks of “{search}”.</p>;
  return (
    <ul class="trials">
      {found.map((trial) => (
        <li key={trial.trial}>
          <a class="name" href={trialAddress(trial.trial)}>
            {trial.name}
          </a>
          <span class="small soft number">
            {trial.demo && (
              <span class="marker">
                <span class="word">invented</span>
              </span>
            )}{' '}
            {count(trial.rounds, 'round')}, {when(trial.changed)}
          </span>
          <p class="stands">{trial.stands}</p>
          {search.trim() !== '' && <Found of={foundNames(trial, search)} />}
        </li>
      ))}
    </ul>
  );
}

function Found({ of }: { of: readonly string[] }) {
  return of.length === 0 ? null : <p class="small soft">In its brief: {of.slice(0, 5).join(', ')}</p>;
}

type Searched = Pick<Summary, 'name' | 'stands' | 'changed' | 'names'>;

/** Trials in whose name, standing or brief every word searched for begins a word, latest change first. */
export function searchTrials<T extends Searched>(list: readonly T[], search: string): T[] {
  const words = plainText(search).split(' ').filter(Boolean);
  const text = (trial: T) => ` ${plainText([trial.name, trial.stands, ...trial.names].join(' '))}`;
  return list
    .filter((trial) => words.every((word) => text(trial).includes(` ${word}`)))
    .sort((a, b) => b.changed.localeCompare(a.changed));
}

/** What the brief names that the search speaks of, so that a find explains itself. */
export function foundNames({ name, stands, names }: Searched, search: string): string[] {
  const words = plainText(search).split(' ').filter(Boolean);
  const own = ` ${plainText(`${name} ${stands}`)}`;
  const open = words.filter((word) => !own.includes(` ${word}`));
  return names.filter((one) => open.some((word) => ` ${plainText(one)}`.includes(` ${word}`)));
}
