import { aimPosterior } from '../../../engine/aim/aim-posterior.ts';
import { finalDraws } from '../../../engine/aim/final-draws.ts';
import { type Chances, chancesOf, comparesWithRegion, onScale } from '../../../engine/model/chance.ts';
import type { PanelPosterior, Point } from '../../../engine/model/posterior-types.ts';
import { createRandom, type Random } from '../../../engine/numeric/random.ts';
import { panelMap } from '../../../engine/panel/map/panel-map.ts';
import { type Attribute, WARMUP } from '../../../engine/panel/observations.ts';
import { toAttributes, toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import type { ReadInput } from '../results.ts';
import type { Answer, Question, Scores } from './messages.ts';

/** What has been learnt from one reading. */
interface Learnt {
  input: ReadInput;
  posterior: PanelPosterior;
  attributes: Attribute[];
  /** Ratios that were made: what `most` and `least` are compared with, among mixtures of them. */
  made: readonly Point[];
}

/** The seed of what is proposed where nobody gives another: a ratio then has the same chance here and there. */
const SEED = 1;
/** So many points have the draws of a chance that is told; more, as for a map, share fewer. */
const TOLD = 6;

let learnt: Learnt | null = null;

addEventListener('message', ({ data }: MessageEvent<Question>) => postMessage(answer(data)));

function answer(question: Question): Answer {
  const { id } = question;
  try {
    if (question.ask === 'learn') {
      learnt = learn(question);
      return { id, done: 'learnt' };
    }
    if (learnt === null) return { id, done: 'failed', message: 'nothing has been learnt yet' };
    if (question.ask === 'scores') return { id, done: 'scores', scores: scoresAt(learnt, question.points) };
    if (question.ask === 'map') return { id, done: 'map', ...mapOf(learnt) };
    return { id, done: 'chances', chances: chancesAt(learnt, question.points, question.draws) };
  } catch (thrown) {
    return { id, done: 'failed', message: thrown instanceof Error ? thrown.message : String(thrown) };
  }
}

/** What the next mixes are searched by, from the reading's own input. */
function learn({ input, region }: Extract<Question, { ask: 'learn' }>): Learnt {
  const attributes = toAttributes(input.brief);
  const { posterior } = aimPosterior({
    names: {},
    seed: SEED,
    space: toBlendSpace(input.brief),
    region,
    mixes: input.mixes,
    servings: input.servings.filter(({ mix }) => mix !== WARMUP),
    attributes,
    model: 'auto',
    assessorsSetAside: input.setAside,
  });
  return {
    input,
    posterior,
    attributes,
    made: input.mixes.map(({ shares, settings }) => ({ shares, settings })),
  };
}

function scoresAt({ posterior, attributes }: Learnt, points: readonly Point[]): (Scores | null)[] {
  return posterior.predict(points).map((found, k) => {
    if (posterior.attributes[k]!.status !== 'estimated') return null;
    const cut = (values: Float64Array) => values.map((value) => onScale(attributes[k]!, value));
    return { mean: cut(found.mean), low: cut(found.low), high: cut(found.high) };
  });
}

function chancesAt(
  { posterior, attributes, made }: Learnt,
  points: readonly Point[],
  draws: number,
): Chances {
  const random = createRandom(SEED, 'chances');
  const cover = comparesWithRegion(attributes) ? mixturesOf(made, random.fork('cover'), 200) : [];
  const joint =
    points.length <= TOLD
      ? finalDraws(points, { attributes, posterior, cover, seed: SEED })
      : posterior.draws([...points, ...cover], draws, random);
  const usable = posterior.attributes.map(({ status }) => status === 'estimated');
  return chancesOf(attributes, joint, usable, points.length);
}

/** The map of the same scores. */
function mapOf({ input, attributes }: Learnt) {
  const options = { draws: 300, setAside: input.setAside };
  return panelMap(input.servings, attributes.length, createRandom(1, 'map'), options);
}

/** Points made by mixing two ratios that were made: all of them allowed where the made ones are. */
function mixturesOf(made: readonly Point[], random: Random, count: number): Point[] {
  return Array.from({ length: count }, () => {
    const a = made[random.integer(made.length)]!;
    const b = made[random.integer(made.length)]!;
    const t = random.uniform();
    const between = (p: readonly number[], q: readonly number[]) => p.map((x, i) => x + t * (q[i]! - x));
    return { shares: between(a.shares, b.shares), settings: between(a.settings, b.settings) };
  });
}
