import { useEffect, useRef } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { type Place, trialAddress } from '../routes.ts';
import { type StoryMark, storyOf } from '../story.ts';

const STATES = { done: 'done', now: 'to do now', waiting: 'later' } as const;

/** The trial's story down the side of each of its pages; folded away on a phone. */
export function Spine({ trial, place }: { trial: TrialView; place: Place }) {
  const marks = storyOf(trial, place);
  const fold = useRef<HTMLDetailsElement>(null);
  const address = marks.find(({ current }) => current)?.address ?? '';
  useEffect(() => {
    const wide = matchMedia('(min-width: 56.01rem)');
    const settle = () => {
      if (fold.current) fold.current.open = wide.matches;
    };
    settle();
    wide.addEventListener('change', settle);
    return () => wide.removeEventListener('change', settle);
  }, [address, place]);
  useEffect(() => {
    if (fold.current) bringIntoSight(fold.current);
  }, [address]);
  return (
    <details class="spine" ref={fold}>
      <summary>
        <span class="drop" />
        <span>{hereOf(marks)}</span>
      </summary>
      <nav class="inside" aria-label="The trial’s story">
        <ol>
          {marks.map((mark) => (
            <Mark key={mark.key} mark={mark} />
          ))}
        </ol>
        <SidePages trial={trial.trial} place={place} />
      </nav>
    </details>
  );
}

/** A long story scrolls by itself: to the page that is open, else to what is to be done now. */
function bringIntoSight(spine: HTMLElement): void {
  const mark =
    spine.querySelector('a[aria-current]') ?? [...spine.querySelectorAll('li.now > a')].at(-1) ?? null;
  if (mark === null || spine.scrollHeight <= spine.clientHeight) return;
  const from = mark.getBoundingClientRect().top - spine.getBoundingClientRect().top;
  spine.scrollTop += from - spine.clientHeight / 2;
}

function Mark({ mark }: { mark: StoryMark }) {
  return (
    <li class={`${mark.state} ${mark.level}`}>
      <a
        href={mark.address}
        class={mark.level === 'head' ? 'chapter-mark' : undefined}
        aria-current={mark.current ? 'page' : undefined}
      >
        {mark.label}
        <span class="unseen">, {STATES[mark.state]}</span>
      </a>
    </li>
  );
}

const SIDE = [
  ['story', 'Where it stands'],
  ['desk', 'The desk'],
  ['ledger', 'Ledger'],
  ['record', 'Record'],
] as const;

function SidePages({ trial, place }: { trial: string; place: Place }) {
  return (
    <div class="side">
      {SIDE.map(([at, label]) => (
        <a
          key={at}
          href={trialAddress(trial, at)}
          aria-current={place.page === 'trial' && place.at === at ? 'page' : undefined}
        >
          {label}
        </a>
      ))}
    </div>
  );
}

function hereOf(marks: readonly StoryMark[]): string {
  const at = marks.findIndex(({ current }) => current);
  const here = marks[at];
  if (here === undefined) return 'The trial’s story';
  const head = marks.slice(0, at).findLast(({ level }) => level === 'head');
  return here.level === 'sub' && head ? `${head.label}: ${here.label}` : here.label;
}
