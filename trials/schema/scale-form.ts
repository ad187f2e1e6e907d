/** The longest scale of whole numbers that is shown as points to tap or tick. */
const MOST_POINTS = 11;

/** Words at the two ends of a scale, on phones and on paper. */
export const SCALE_ENDS: readonly [string, string] = ['not at all', 'very much'];

/** Short scales of whole numbers are answered in whole numbers. */
export function isPoints([low, high]: readonly [number, number]): boolean {
  return Number.isInteger(low) && Number.isInteger(high) && high - low + 1 <= MOST_POINTS && high > low;
}
