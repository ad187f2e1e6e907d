import { sayAssessor } from './assessor-words.ts';
import type { Cups } from './cups.ts';
import { oneWay } from './one-way.ts';
import { OthersLevels } from './others-levels.ts';
import { additiveFit, filled, type ProfileTable, profileTable } from './profile-table.ts';
import { type AssessorReading, noTest, type PanelBackground, type Test } from './reading-types.ts';

/**
 * How each assessor worked on one attribute, measured against the panel of those not set aside.
 * Agreement leaves the assessor out of what it is compared with; scaling is the slope on the whole panel's mix
 * levels (Brockhoff, Schlich and Skovgaard 2015 call the same slope scaling). Where mixes were missed, the mix
 * levels of the panel are those of an additive fit, so that who tasted what does not matter.
 */
export function readAssessors(
  cups: Cups,
  setAside: ReadonlySet<string>,
  background: PanelBackground,
): AssessorReading[] {
  const table = profileTable(cups);
  const panel = [...cups.assessors.keys()].filter((a) => !setAside.has(cups.assessors[a]!));
  const whole = additiveFit(table, panel);
  const rest = new OthersLevels(table, panel);
  const sessions = sessionLevels(cups, whole.mix);
  const cupsOfEach = cups.assessors.map((): number[] => []);
  cups.assessorOf.forEach((a, i) => {
    cupsOfEach[a]!.push(i);
  });
  const figures = cups.assessors.map((assessor, a) => {
    const own = cupsOfEach[a]!;
    const { test, within } = oneWay(
      own.map((i) => cups.y[i]!),
      own.map((i) => cups.mixOf[i]!),
    );
    const others = panel.length - Number(!setAside.has(assessor));
    return {
      assessor,
      cups: own.length,
      setAside: setAside.has(assessor),
      discrimination: test,
      repeatability: within,
      agreement: others > 0 ? agreementWith(table, a, rest.without(a)) : null,
      scaling: panel.length > 1 ? slopeOn(table, a, whole) : null,
      offset: panel.length > 1 ? offsetFrom(table, a, whole) : null,
      drift: panel.length > 1 ? driftOf(cups, own, whole.mix, sessions) : noTest('nobody to compare with'),
      mixes: mixesOf(table, a).length,
      constant: own.length > 2 && own.every((i) => cups.y[i] === cups.y[own[0]!]),
    };
  });
  return figures.map(({ constant, mixes, ...figure }) => ({
    ...figure,
    says: sayAssessor({ ...figure, constant, mixes, says: '' }, figures, background),
  }));
}

/** Null with fewer than three mixes in common or where either side does not vary. */
function agreementWith(
  table: ProfileTable,
  assessor: number,
  rest: { mix: Float64Array; hasMix: boolean[] },
): number | null {
  const shared = mixesOf(table, assessor).filter((m) => rest.hasMix[m]);
  if (shared.length < 3) return null;
  const { sxy, sxx, syy } = products(shared, table, assessor, rest.mix);
  const length = Math.sqrt(sxx * syy);
  return length > 0 && moves(sxx, rest.mix) && moves(syy, table.mean)
    ? Math.max(-1, Math.min(1, sxy / length))
    : null;
}

function slopeOn(table: ProfileTable, assessor: number, panel: { mix: Float64Array; hasMix: boolean[] }) {
  const shared = mixesOf(table, assessor).filter((m) => panel.hasMix[m]);
  if (shared.length < 2) return null;
  const { sxy, sxx } = products(shared, table, assessor, panel.mix);
  return moves(sxx, panel.mix) ? sxy / sxx : null;
}

function offsetFrom(table: ProfileTable, assessor: number, panel: { mix: Float64Array; hasMix: boolean[] }) {
  const shared = mixesOf(table, assessor).filter((m) => panel.hasMix[m]);
  if (shared.length === 0) return null;
  const sum = shared.reduce((s, m) => s + table.mean[assessor * table.mixes + m]! - panel.mix[m]!, 0);
  return sum / shared.length;
}

/** Whether an assessor's scores beyond the mixes' levels move between sessions. */
function driftOf(cups: Cups, own: readonly number[], mix: Float64Array, common: Float64Array): Test {
  if (cups.sessions.length < 2) return noTest('one session');
  return oneWay(
    own.map((i) => cups.y[i]! - mix[cups.mixOf[i]!]! - common[cups.sessionOf[i]!]!),
    own.map((i) => cups.sessionOf[i]!),
  ).test;
}

function sessionLevels(cups: Cups, mix: Float64Array): Float64Array {
  const sum = new Float64Array(cups.sessions.length);
  const count = new Int32Array(cups.sessions.length);
  cups.y.forEach((score, i) => {
    sum[cups.sessionOf[i]!]! += score - mix[cups.mixOf[i]!]!;
    count[cups.sessionOf[i]!]! += 1;
  });
  return sum.map((s, j) => s / Math.max(1, count[j]!));
}

function mixesOf(table: ProfileTable, assessor: number): number[] {
  return Array.from({ length: table.mixes }, (_, m) => m).filter((m) => filled(table, assessor, m));
}

function products(
  mixes: readonly number[],
  table: ProfileTable,
  assessor: number,
  profile: ArrayLike<number>,
) {
  const own = (m: number) => table.mean[assessor * table.mixes + m]!;
  const x0 = mixes.reduce((sum, m) => sum + profile[m]!, 0) / mixes.length;
  const y0 = mixes.reduce((sum, m) => sum + own(m), 0) / mixes.length;
  let [sxx, sxy, syy] = [0, 0, 0];
  for (const m of mixes) {
    sxx += (profile[m]! - x0) ** 2;
    sxy += (profile[m]! - x0) * (own(m) - y0);
    syy += (own(m) - y0) ** 2;
  }
  return { sxx, sxy, syy };
}

/** Whether a sum of squares is more than rounding at the size of the values. */
function moves(squares: number, values: Float64Array): boolean {
  const size = values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  return squares > 1e-20 * size * size;
}
