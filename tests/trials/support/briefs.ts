/** A small brief that uses every part; tests change a copy. */
export function pithBrief(): Record<string, unknown> {
  return {
    format: 'brief/1',
    name: 'Pith & Pepper',
    components: [
      { id: 'peel', name: 'Grapefruit peel oil', low: 0.05, high: 0.6, pricePerGram: 0.4 },
      { id: 'lime', name: 'Lime oil', low: 0, high: 0.3 },
      { id: 'pepper', name: 'Pink pepper extract', low: 0.02, high: 0.25, stocks: [5] },
      { id: 'wood', name: 'Nootkatone', low: 0.1, high: 0.6, strength: 10, solvent: 'ethanol-96' },
    ],
    bounds: [{ of: { peel: 1, lime: 1 }, least: 0.2, most: 0.8 }],
    settings: [{ id: 'dose', name: 'Dose', unit: 'mL/L', low: 0.17, high: 0.33, acts: 'each' }],
    batch: { grams: 4, readability: 0.01, tolerance: 0.02 },
    attributes: [
      { id: 'bitter', name: 'Bitter', scale: [0, 100], target: 62, tolerance: 8, weight: 1 },
      { id: 'fresh', name: 'Fresh', scale: [0, 100], target: [40, 60] },
      { id: 'liking', name: 'Overall liking', scale: [1, 9], target: 'most' },
    ],
    panel: { assessors: 6, cupsPerSitting: 4, replicates: 1 },
    concentrate: { carrier: 'ethanol-96', percentVol: 76, fillMillilitres: 25 },
    drink: {
      name: 'soda',
      cupMillilitres: 30,
      percentVol: 0,
      density: 1.03,
      dosePerLitre: { setting: 'dose' },
    },
    caps: { ethanolGramsPerSitting: 10, costPerLitre: 0.5, jurisdictions: ['EU'] },
  };
}

/** A copy of a document with the value at a path set, or taken away where the value is undefined. */
export function changed(
  document: unknown,
  path: readonly (string | number)[],
  value: unknown,
): Record<string, unknown> {
  const copy = structuredClone(document) as Record<string, unknown>;
  let at = copy as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) at = at[step] as Record<string | number, unknown>;
  const last = path.at(-1)!;
  if (value === undefined) delete at[last];
  else at[last] = value;
  return copy;
}
