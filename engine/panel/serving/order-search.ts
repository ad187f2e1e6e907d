import type { Random } from '../../numeric/random.ts';
import type { OrderShape } from './order-shape.ts';

export interface OrderSearch {
  shape: OrderShape;
  /** Sittings that were served already and count towards the balance. */
  served: readonly (readonly number[])[];
  /** Exchanges to try. */
  steps: number;
}

/** Weights of the squared counts: position and following first, company within a sitting far behind. */
const WEIGHT = { position: 1.5, follow: 1, together: 0.25, part: 0.25 };
const HOT = 2;
const COLD = 0.1;

/**
 * Simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983) over serving orders: two cups of one block change
 * places, and the sum of squared counts (mix by position, mix after mix, mix beside mix in a cut block) falls. Each
 * exchange costs a handful of additions.
 *
 * @param rows for each assessor all cups in order, as indices of mixes @returns the best rows met
 */
export function searchOrders(rows: readonly number[][], search: OrderSearch, random: Random): number[][] {
  const { mixes } = search.shape;
  const state = new OrderState(rows, search);
  let best = rows.map((r) => [...r]);
  let least = state.energy;
  const cooling = (COLD / HOT) ** (1 / search.steps);
  let heat = HOT;
  for (let step = 0; step < search.steps && least > state.ideal; step++, heat *= cooling) {
    const row = random.integer(rows.length);
    const block = random.integer(search.shape.blocks) * mixes;
    const a = random.integer(mixes);
    const b = random.integer(mixes - 1);
    const cups: Exchange = [row, block + Math.min(a, b), block + (b >= a ? b + 1 : a)];
    const rise = state.exchange(cups);
    if (rise > 0 && random.uniform() >= Math.exp(-rise / heat)) state.exchange(cups);
    else if (state.energy < least - 1e-9) {
      least = state.energy;
      best = state.rows.map((r) => [...r]);
    }
  }
  return best;
}

/** Row, earlier cup, later cup. */
type Exchange = [number, number, number];

/** Counts that add the change of their weighted squares to a common sum. */
class Tally {
  readonly counts: Int32Array;
  readonly #weight: number;
  readonly #sum: { energy: number };

  constructor(size: number, weight: number, sum: { energy: number }) {
    this.counts = new Int32Array(size);
    this.#weight = weight;
    this.#sum = sum;
  }

  add(index: number, by: 1 | -1): void {
    this.#sum.energy += this.#weight * (2 * by * this.counts[index]! + 1);
    this.counts[index]! += by;
  }

  /** The sum of squares if its servings were spread as evenly as whole numbers allow. */
  get ideal(): number {
    const total = this.counts.reduce((sum, n) => sum + n, 0);
    const size = this.counts.length;
    const over = total % size;
    const low = (total - over) / size;
    return this.#weight * (over * (low + 1) ** 2 + (size - over) * low ** 2);
  }
}

class OrderState {
  readonly rows: number[][];
  readonly ideal: number;
  readonly #sum = { energy: 0 };
  readonly #shape: OrderShape;
  readonly #at: Tally[];
  readonly #after: Tally;
  readonly #self: Tally;
  readonly #beside: Tally;
  readonly #parts: Tally[];

  constructor(rows: readonly number[][], { shape, served }: OrderSearch) {
    const m = shape.mixes;
    const tally = (size: number, weight: number) => new Tally(size, weight, this.#sum);
    const tallies = (count: number, weight: number) => Array.from({ length: count }, () => tally(m, weight));
    this.rows = rows.map((r) => [...r]);
    this.#shape = shape;
    const longest = Math.max(...shape.position.map((p) => p + 1), ...served.map((s) => s.length));
    this.#at = tallies(longest, WEIGHT.position);
    this.#parts = tallies(Math.max(...shape.part) + 1, WEIGHT.part);
    this.#after = tally(m * (m - 1), WEIGHT.follow);
    this.#self = tally(1, this.#selfWeight());
    this.#beside = tally((m * (m - 1)) / 2, WEIGHT.together);
    for (const sitting of served)
      sitting.forEach((mix, k) => {
        this.#at[k]!.add(mix, 1);
        if (k > 0) this.#link(sitting[k - 1]!, mix, 1);
      });
    for (const row of this.rows) this.#enter(row);
    this.ideal =
      1e-9 + [...this.#at, ...this.#parts, this.#after, this.#beside].reduce((s, t) => s + t.ideal, 0);
  }

  /** Above what a following pair less would save, so that no mix is poured after itself to even the rest out. */
  #selfWeight(): number {
    const { mixes, follows } = this.#shape;
    const joins = this.rows.length * follows.filter(Boolean).length;
    return 8 + (4 * joins) / (mixes * (mixes - 1));
  }

  get energy(): number {
    return this.#sum.energy;
  }

  /** Lets two cups of a block change places; returns by how much the energy rises. */
  exchange([row, a, b]: Exchange): number {
    const before = this.energy;
    const cups = this.rows[row]!;
    this.#links(cups, a, b, -1);
    this.#places(cups, a, b, -1);
    [cups[a], cups[b]] = [cups[b]!, cups[a]!];
    this.#links(cups, a, b, 1);
    this.#places(cups, a, b, 1);
    return this.energy - before;
  }

  #enter(cups: readonly number[]): void {
    cups.forEach((mix, k) => {
      this.#at[this.#shape.position[k]!]!.add(mix, 1);
      this.#parts[this.#shape.part[k]!]!.add(mix, 1);
      if (this.#shape.follows[k]) this.#link(cups[k - 1]!, mix, 1);
      if (!this.#shape.cut) return;
      for (let j = k - 1; j >= 0 && this.#shape.sitting[j] === this.#shape.sitting[k]; j--)
        this.#company(cups[j]!, mix, 1);
    });
  }

  #places(cups: readonly number[], a: number, b: number, by: 1 | -1): void {
    for (const k of [a, b]) {
      this.#at[this.#shape.position[k]!]!.add(cups[k]!, by);
      this.#parts[this.#shape.part[k]!]!.add(cups[k]!, by);
      if (!this.#shape.cut || this.#shape.sitting[a] === this.#shape.sitting[b]) continue;
      const sitting = this.#shape.sitting[k]!;
      const first = k - this.#shape.position[k]!;
      for (let j = first; this.#shape.sitting[j] === sitting; j++)
        if (j !== k) this.#company(cups[j]!, cups[k]!, by);
    }
  }

  #links(cups: readonly number[], a: number, b: number, by: 1 | -1): void {
    const { follows } = this.#shape;
    for (const k of b === a + 1 ? [a, b, b + 1] : [a, a + 1, b, b + 1])
      if (follows[k]) this.#link(cups[k - 1]!, cups[k]!, by);
  }

  #link(first: number, next: number, by: 1 | -1): void {
    if (first === next) this.#self.add(0, by);
    else this.#after.add(first * (this.#shape.mixes - 1) + next - (next > first ? 1 : 0), by);
  }

  #company(one: number, other: number, by: 1 | -1): void {
    const high = Math.max(one, other);
    this.#beside.add((high * (high - 1)) / 2 + Math.min(one, other), by);
  }
}
