import { proposeNext } from '../../engine/aim/propose-next.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import type { Evidence, Method } from '../../tests/worlds/baselines/baseline.ts';
import { randomMixes } from '../../tests/worlds/baselines/plain-searches.ts';
import { nextInput } from '../../tests/worlds/our-search.ts';
import { play } from '../../tests/worlds/play.ts';
import { makeWorld } from '../../tests/worlds/world.ts';
import { loadSolver } from '../../trials/solver.ts';

interface Size {
  components: number;
  attributes: number;
  mixes: number;
}

const WHOLE: Size = { components: 6, attributes: 8, mixes: 24 };
const GROWTH: Size[] = [
  { ...WHOLE, attributes: 4 },
  { ...WHOLE, mixes: 12 },
  { ...WHOLE, mixes: 48 },
  { ...WHOLE, components: 3 },
];

/** Time of three proposals for six assessors: the whole size with where it goes, then one measure changed at a time. */
export async function reportSpeed(say: (line: string) => void, quick: boolean): Promise<void> {
  const solver = await loadSolver();
  say('\n## Time of three proposals, 6 assessors');
  say('| components | attributes | mixes | seconds | where it goes |');
  say('|---|---|---|---|---|');
  for (const size of [WHOLE, ...(quick ? [] : GROWTH)]) say(rowOf(size, solver));
}

function rowOf(size: Size, solver: LinearSolver): string {
  const evidence = tastedEvidence(size);
  const steps: { at: number; doing: string }[] = [];
  const begun = performance.now();
  proposeNext(
    { ...nextInput(evidence), count: 3 },
    { solver },
    { progress: (_, doing) => steps.push({ at: performance.now(), doing }) },
  );
  const end = performance.now();
  const parts = steps.map(({ at, doing }, i) => {
    return `${doing} ${(((steps[i + 1]?.at ?? end) - at) / 1000).toFixed(2)}`;
  });
  return `| ${size.components} | ${size.attributes} | ${size.mixes} | ${((end - begun) / 1000).toFixed(2)} | ${parts.join(', ')} |`;
}

/** The first world of that size, with random mixes tasted. */
function tastedEvidence({ components, attributes, mixes }: Size): Evidence {
  for (let seed = 1; ; seed++) {
    const world = makeWorld(seed);
    if (world.space.components.length !== components || world.attributes.length !== attributes) continue;
    let found: Evidence | null = null;
    const watched: Method = {
      ...randomMixes,
      recommend(evidence, stream) {
        found = evidence;
        return randomMixes.recommend(evidence, stream);
      },
    };
    play(world, watched, [mixes]);
    return found!;
  }
}
