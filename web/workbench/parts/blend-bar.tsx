import type { Brief } from '../../../trials/schema/brief.ts';
import { listed, parts } from '../numbers.ts';

type Components = Brief['components'];

/** Shares that may be too narrow on the bar of a phone for a name or a number. */
const SLIM = 0.13;

/** A blend as one bar of liquid cut into shares, each with its name and parts of a hundred; small ones are named below. */
export function BlendBar({ components, ratios }: { components: Components; ratios: Record<string, number> }) {
  const says = components.map(({ id }) => `${id} ${parts(ratios[id] ?? 0)}`).join(', ');
  const slim = components.filter(({ id }) => (ratios[id] ?? 0) < SLIM);
  return (
    <>
      <div class="blend" role="img" aria-label={`Parts of a hundred: ${says}`}>
        {components.map(({ id }, index) => (
          <div
            key={id}
            class={`share tint-${index % 3}`}
            ref={(part) => part?.style.setProperty('flex-grow', String(ratios[id] ?? 0))}
          >
            <span>{id}</span>
            <span class="number">{parts(ratios[id] ?? 0)}</span>
          </div>
        ))}
      </div>
      {slim.length > 0 && (
        <p class="small soft slim">
          Small: {listed(slim.map(({ id }) => `${id} ${parts(ratios[id] ?? 0)}`))}
        </p>
      )}
    </>
  );
}
