import { type Limit, reach, sharesOf } from './weighable.ts';

/** A blend on the desk: whole steps of the balance for each component, which of them are locked, the settings. */
export interface DeskState {
  steps: readonly number[];
  locked: readonly boolean[];
  settings: Readonly<Record<string, number>>;
}

/** A ratio kept for comparison. */
export interface Pin {
  name: string;
  steps: readonly number[];
  settings: Readonly<Record<string, number>>;
}

/** The components that a seam moves: the nearest unlocked one on each side, or null where a side has none. */
export function sidesOf(state: DeskState, seam: number): readonly [left: number, right: number] | null {
  const left = state.locked.findLastIndex((locked, i) => i <= seam && !locked);
  const right = state.locked.findIndex((locked, i) => i > seam && !locked);
  return left < 0 || right < 0 ? null : [left, right];
}

/** How far a seam may go: fewest and most steps of the component on its left, as the limits allow. */
export function seamReach(limits: readonly Limit[], state: DeskState, seam: number): [number, number] {
  const sides = sidesOf(state, seam);
  if (sides === null) return [0, 0];
  const total = state.steps.reduce((sum, step) => sum + step, 0);
  const direction = state.steps.map((_, i) => (i === sides[0] ? 1 / total : i === sides[1] ? -1 / total : 0));
  const [low, high] = reach(limits, sharesOf(state.steps), direction);
  return [Math.min(0, Math.ceil(low - 1e-6)), Math.max(0, Math.floor(high + 1e-6))];
}

/** Moves a seam by whole steps, as far as it may go: what one side gains the other gives. */
export function withSeam(limits: readonly Limit[], state: DeskState, seam: number, by: number): DeskState {
  const sides = sidesOf(state, seam);
  if (sides === null) return state;
  const [least, most] = seamReach(limits, state, seam);
  const moved = Math.max(least, Math.min(most, Math.round(by)));
  if (moved === 0) return state;
  const steps = state.steps.map((step, i) => step + (i === sides[0] ? moved : i === sides[1] ? -moved : 0));
  return { ...state, steps };
}

/** Locks a share, or lets it go. */
export function withLock(state: DeskState, index: number): DeskState {
  return { ...state, locked: state.locked.map((locked, i) => (i === index ? !locked : locked)) };
}

export function withSetting(state: DeskState, id: string, value: number): DeskState {
  return { ...state, settings: { ...state.settings, [id]: value } };
}

/** Puts another ratio on the desk; locks stay. */
export function withRatio(state: DeskState, ratio: Pick<Pin, 'steps' | 'settings'>): DeskState {
  return { ...state, steps: ratio.steps, settings: ratio.settings };
}

/** Letters for pins: A, B, C … */
export function pinName(pins: readonly Pin[]): string {
  const taken = new Set(pins.map(({ name }) => name));
  return [...'ABCDEF'].find((letter) => !taken.has(letter)) ?? 'F';
}
