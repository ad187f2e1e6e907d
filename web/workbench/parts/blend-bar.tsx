import type { Brief } from '../../../trials/schema/brief.ts';
import { parts } from '../numbers.ts';

type Components = Brief['components'];

/** A blend as one bar of liquid cut into shares, each with its name and parts of a hundred. */
export function BlendBar({ components, ratios }: { components: Components; ratios: Record<string, number> }) {
  const says = components.map(({ id }) => `${id} ${parts(ratios[id] ?? 0)}`).join(', ');
  return (
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
  );
}
