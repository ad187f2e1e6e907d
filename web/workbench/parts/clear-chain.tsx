import type { JudgedLink } from '../../../engine/bench/falling-out.ts';

/** From bottle to glass: whether oil is likely to fall out of each liquid, a sentence each. */
export function ClearChain({ of }: { of: readonly JudgedLink[] }) {
  const sources = [...new Set(of.map(({ source }) => source))];
  return (
    <>
      <ul>
        {of.map(({ place, clearness, says }) => (
          <li key={place} class={clearness === 'clear' ? 'soft' : undefined}>
            {says}
          </li>
        ))}
      </ul>
      <p class="small soft">
        A rule of thumb, no measurement: a glass looked at after a cold day decides. It goes by:{' '}
        {sources.join('; ')}.
      </p>
    </>
  );
}

/** The worst of a chain in a few words, for what unfolds it. */
export function chainGist(of: readonly JudgedLink[]): string {
  const at = (clearness: JudgedLink['clearness']) =>
    of.filter((one) => one.clearness === clearness).map(({ place }) => lower(place));
  const [falls, looks, unknown] = [at('can-fall-out'), at('look'), at('not-known')];
  if (falls.length > 0) return `Oil can fall out: ${falls.join(', ')}`;
  if (looks.length > 0) return `Look whether it stays clear: ${looks.join(', ')}`;
  return unknown.length > 0
    ? `Whether it stays clear is not known: ${unknown.join(', ')}`
    : 'Should stay clear';
}

function lower(place: string): string {
  return place.startsWith('The ') ? `the ${place.slice(4)}` : place;
}
