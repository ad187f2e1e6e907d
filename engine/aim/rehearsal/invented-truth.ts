import { onScale } from '../../model/chance.ts';
import type { Point } from '../../model/posterior-types.ts';
import type { Random } from '../../numeric/random.ts';
import type { Attribute, Target } from '../../panel/observations.ts';
import { codeSetting, type SettingRange } from '../../region/blend-space.ts';
import type { Region } from '../../region/region.ts';
import { scaleLength } from '../target-miss.ts';

export const DIFFICULTIES = ['easy', 'middling', 'hard'] as const;
export type Difficulty = (typeof DIFFICULTIES)[number];

/** What each difficulty invents, in plain words. */
export const DIFFICULTY_SAYS: Readonly<Record<Difficulty, string>> = {
  easy: 'each flavour follows the ratios in a straight line',
  middling: 'ingredients lift and cover one another, so that flavours bend',
  hard: 'flavours bend strongly and each has a peak or a hollow somewhere that no smooth curve follows',
};

/** True scores of the aimed attributes at a point, in scale units. */
export type Truth = (point: Point) => number[];

export interface InventedTruth {
  truth: Truth;
  /** The ratio that meets every target, as nobody knows. */
  hidden: Point;
}

/** Spread of what bends, and height of the peak or hollow, against that of the straight part and in points of 100. */
const SHAPES: Readonly<Record<Difficulty, { bend: number; peak: readonly [number, number] }>> = {
  easy: { bend: 0, peak: [0, 0] },
  middling: { bend: 0.6, peak: [0, 0] },
  hard: { bend: 1, peak: [6, 14] },
};
/** From low to high over the region an attribute moves by so many points of 100. */
const MOVES = [35, 65] as const;
/** The width of a peak, and of the hill of what is to be most or least, in ranges of the components. */
const PEAK_WIDTH = [0.25, 0.45] as const;
const HILL_WIDTH = [0.5, 0.9] as const;
const HILL = [40, 60] as const;

/**
 * Invents how a region tastes: every aimed attribute a surface over shares scaled by their ranges and coded settings,
 * straight (Σ aᵢuᵢ with settings crossed), bent (Σ qᵢⱼuᵢuⱼ) and with a Gaussian peak or hollow as the difficulty
 * asks, lifted so that all targets are met at one hidden ratio. What is to be most or least is a hill or a hollow around
 * that ratio, as liking is. Simulated, for rehearsals only: our own choice of shapes.
 *
 * @param attributes those that are aimed at; a reference tastes as the hidden ratio does
 * @param cover points spread evenly over the region
 */
export function inventTruth(
  attributes: readonly Attribute[],
  by: { region: Region; cover: readonly Point[]; difficulty: Difficulty; random: Random },
): InventedTruth {
  const { region, cover, difficulty, random } = by;
  const place = placer(region);
  const hidden = cover[random.integer(cover.length)]!;
  const at = place(hidden);
  const places = cover.map(place);
  const surfaces = attributes.map((attribute) => {
    const goal = goalOf(attribute, random);
    const rise = riseOf(attribute.target!, { region, places, at, difficulty, random });
    const unit = scaleLength(attribute) / 100;
    return (p: Place) => onScale(attribute, goal + unit * rise(p));
  });
  return { truth: (point) => surfaces.map((surface) => surface(place(point))), hidden };
}

/** Shares as parts of what they range over, and coded settings. */
interface Place {
  u: number[];
  z: number[];
}

function placer({ space, low, high }: Region): (point: Point) => Place {
  return ({ shares, settings }) => ({
    u: shares.map((share, i) => (high[i]! > low[i]! ? (share - low[i]!) / (high[i]! - low[i]!) : 0)),
    z: space.settings.map((setting, s) => codeSetting(setting, settings[s]!)),
  });
}

/** The score at the hidden ratio. */
function goalOf(attribute: Attribute, random: Random): number {
  const target = attribute.target!;
  const [low, high] = attribute.scale ?? [0, 100];
  switch (target.kind) {
    case 'value':
      return target.value;
    case 'range':
      return target.low + (target.high - target.low) * random.uniform();
    case 'reference':
      return low + (high - low) * (0.3 + 0.4 * random.uniform());
    case 'most':
      return low + 0.85 * (high - low);
    case 'least':
      return low + 0.15 * (high - low);
  }
}

type Surface = (place: Place) => number;

/** Points of 100 above the hidden ratio's score. */
function riseOf(
  target: Target,
  by: { region: Region; places: readonly Place[]; at: Place; difficulty: Difficulty; random: Random },
): Surface {
  const { region, places, at, difficulty, random } = by;
  if (target.kind === 'most' || target.kind === 'least') {
    const height = between(HILL, random) * (target.kind === 'most' ? 1 : -1);
    const hill = hillAt(at, height, between(HILL_WIDTH, random));
    return (p) => hill(p) - height;
  }
  const { bend, peak } = SHAPES[difficulty];
  const straight = standardised(straightSurface(region.space.settings, at.u.length, random), places);
  const bent = standardised(bentSurface(at.u.length, random), places);
  const smooth: Surface = (p) => straight(p) + (bend === 0 ? 0 : bend * bent(p));
  const stretch = between(MOVES, random) / spanOf(places.map(smooth));
  const sign = random.uniform() < 0.5 ? -1 : 1;
  const middle = places[random.integer(places.length)]!;
  const bump = hillAt(middle, sign * between(peak, random), between(PEAK_WIDTH, random));
  const whole: Surface = (p) => stretch * smooth(p) + bump(p);
  const there = whole(at);
  return (p) => whole(p) - there;
}

function straightSurface(settings: readonly SettingRange[], q: number, random: Random): Surface {
  const shares = normals(q, random);
  const alone = normals(settings.length, random).map((v) => 0.5 * v);
  const crossed = settings.map(({ acts }) => normals(q, random).map((v) => (acts === 'each' ? 0.3 * v : 0)));
  return ({ u, z }) => {
    let value = 0;
    for (let i = 0; i < q; i++) value += shares[i]! * u[i]!;
    for (let s = 0; s < z.length; s++) {
      value += alone[s]! * z[s]!;
      for (let i = 0; i < q; i++) value += crossed[s]![i]! * z[s]! * u[i]!;
    }
    return value;
  };
}

function bentSurface(q: number, random: Random): Surface {
  const pairs = normals((q * (q - 1)) / 2, random);
  return ({ u }) => {
    let [value, pair] = [0, 0];
    for (let i = 0; i < q; i++) for (let j = i + 1; j < q; j++) value += pairs[pair++]! * u[i]! * u[j]!;
    return value;
  };
}

function hillAt(middle: Place, height: number, width: number): Surface {
  return ({ u, z }) => {
    if (height === 0) return 0;
    let square = 0;
    u.forEach((x, i) => {
      square += (x - middle.u[i]!) ** 2;
    });
    z.forEach((x, s) => {
      square += ((x - middle.z[s]!) / 2) ** 2;
    });
    return height * Math.exp((-0.5 * square) / width ** 2);
  };
}

/** The same surface with mean 0 and standard deviation 1 over the places; flat where it does not move. */
function standardised(surface: Surface, places: readonly Place[]): Surface {
  const values = places.map(surface);
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const deviation = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length);
  return (p) => (deviation > 1e-9 ? (surface(p) - mean) / deviation : 0);
}

/** From the 2.5th to the 97.5th of a hundred. */
function spanOf(values: number[]): number {
  const sorted = values.sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return Math.max(1e-9, at(0.975) - at(0.025));
}

function between([low, high]: readonly [number, number], random: Random): number {
  return low + (high - low) * random.uniform();
}

function normals(count: number, random: Random): number[] {
  return Array.from({ length: count }, () => random.normal());
}
