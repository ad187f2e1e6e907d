/**
 * The invented truth behind the demo trial: what each attribute of a dry grapefruit and pink pepper soda scores
 * on average over all tasters, at any blend and dose. No page ever shows it. All of it is made up for teaching.
 *
 * A mix of 4.00 g is filled to 25 mL, so 1 mL of concentrate carries 160 mg of mix; `dose` millilitres of
 * concentrate go into a litre of drink. With c = milligrams of pure substance per litre and h = the amount that
 * works half-way, every formula below is written in u = c / h, and a score is 100 dⁿ / (1 + dⁿ) (a saturating
 * dose-response curve), where d grows with what feeds the attribute and shrinks with what covers it.
 */

/** The demo's components in the order of its brief. */
export const DEMO_COMPONENTS = ['peel', 'noot', 'thiol', 'pink', 'quassia'] as const;
/** The demo's attributes in the order of its brief. */
export const DEMO_ATTRIBUTES = ['zest', 'juicy', 'spice', 'bitter', 'woody', 'catty'] as const;

const MIX_MILLIGRAMS_PER_MILLILITRE = 160;
/** Fraction of each component, as weighed, that is the pure substance. */
const STRENGTH = [1, 0.1, 0.0001, 0.2, 0.02] as const;
/** Milligrams per litre of drink at which each pure substance works half-way. */
const HALF_WAY = [14, 0.9, 0.00045, 1.3, 0.11] as const;

/** The ratio and dose nobody is told: what the reference drink is made of. */
export const HIDDEN_RATIO: { readonly shares: readonly number[]; readonly dose: number } = {
  shares: [0.38, 0.2, 0.12, 0.16, 0.14],
  dose: 0.25,
};
/** The reference also holds real juice, which no ratio of these components brings. */
const JUICE_OF_THE_REFERENCE = 4;

/**
 * True scores (0 to 100) of a blend at a dose, before any taster's habits.
 * @param shares proportions by mass in the order of `DEMO_COMPONENTS`, summing to 1
 * @param dose millilitres of concentrate per litre of drink
 */
export function trueScores(shares: readonly number[], dose: number): number[] {
  const [peel, noot, thiol, pink, quassin] = strengths(shares, dose);
  const zest = (1.2 * peel + 0.15 * thiol) / (1 + 0.12 * pink + 0.1 * noot + 0.03 * quassin);
  const juicy = (0.95 * thiol + 0.3 * peel + 0.25 * noot) / (1 + 0.35 * quassin + 0.2 * pink);
  const spice = (1.15 * pink) / (1 + 0.3 * peel + 0.15 * thiol);
  const bitter = Math.max(0, 0.8 * quassin + 0.22 * noot + 0.06 * peel - 0.05 * thiol);
  const woody = (0.45 * noot + 0.28 * pink + 0.12 * quassin) / (1 + 0.15 * peel + 0.15 * thiol);
  const catty = (0.5 * thiol) / (1 + 0.45 * peel + 0.2 * pink);
  return [
    saturating(zest, 1.1),
    saturating(juicy, 1.2),
    saturating(spice, 1.2),
    saturating(bitter, 1.3),
    saturating(woody, 1.3),
    saturating(catty, 2.6),
  ];
}

/** True scores of the reference drink: the hidden ratio, and a little more juice than it can give. */
export function referenceScores(): number[] {
  return trueScores(HIDDEN_RATIO.shares, HIDDEN_RATIO.dose).map((score, i) =>
    DEMO_ATTRIBUTES[i] === 'juicy' ? score + JUICE_OF_THE_REFERENCE : score,
  );
}

type Five = [number, number, number, number, number];

function strengths(shares: readonly number[], dose: number): Five {
  return DEMO_COMPONENTS.map((_, i) => {
    const milligrams = shares[i]! * STRENGTH[i]! * MIX_MILLIGRAMS_PER_MILLILITRE * dose;
    return milligrams / HALF_WAY[i]!;
  }) as Five;
}

function saturating(drive: number, steepness: number): number {
  const power = drive ** steepness;
  return (100 * power) / (1 + power);
}
