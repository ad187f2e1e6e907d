/** Round levels that part a span into about so many bands: steps of 1, 2, 2.5 or 5 times a power of ten. */
export function roundLevels(low: number, high: number, about: number): number[] {
  if (!(high > low)) return [low - 0.5, low + 0.5];
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((times) => times * power).find((one) => one >= rough * 0.999)!;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}
