/**
 * Cups that one taster can judge at a sitting: four where the taste lingers (bitter, oily, tenacious), else six.
 * Common practice, no published source.
 */
export function usualCups(lingers: boolean): number {
  return lingers ? 4 : 6;
}
