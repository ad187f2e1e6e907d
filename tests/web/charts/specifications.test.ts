import { parse, View } from 'vega';
import { compile } from 'vega-lite';
import { describe, expect, it } from 'vitest';
import { LEFT_OUT } from '../../../web/charts/left-out.ts';
import { DARK, LIGHT, type Spec } from '../../../web/charts/theme.ts';
import { AMOUNTS, CHARTS } from './chart-cases.ts';
import { schemaFaults } from './vega-lite-schema.ts';

const FRAMES = [
  { width: 960, theme: LIGHT },
  { width: 358, theme: DARK },
];

describe.each(Object.entries(CHARTS))('%s', (_, caseOf) => {
  it.each(AMOUNTS)('is valid by the published schema of Vega-Lite, given %s', (amount) => {
    for (const frame of FRAMES) expect(schemaFaults(caseOf(amount).draw(frame))).toEqual([]);
  });

  it.each(AMOUNTS)('is drawn without a warning and no wider than its place, given %s', async (amount) => {
    for (const frame of FRAMES) {
      const { picture, heard } = await drawnAs(caseOf(amount).draw(frame));
      expect(heard).toEqual([]);
      expect(picture).toMatch(/^<svg/);
      expect(picture).not.toMatch(/NaN|Infinity|undefined/);
      expect(Number(/width="([\d.]+)"/.exec(picture)![1]), 'width').toBeLessThanOrEqual(frame.width + 1);
    }
  });

  it('leaves what it is given as it was', () => {
    const { data, draw } = caseOf('usual');
    const before = JSON.stringify(data);
    deepFreeze(data);
    draw(FRAMES[0]!);
    expect(JSON.stringify(data)).toBe(before);
  });

  it('says what it shows', () => {
    expect(caseOf('usual').draw(FRAMES[0]!)).toHaveProperty('title', expect.stringMatching(/\w/));
  });
});

describe('what the build leaves out of what draws charts', () => {
  it('is asked for by none of them', async () => {
    const families = await Promise.all(LEFT_OUT.map((name) => import(`vega-${name}`)));
    const gone = new Set(families.flatMap((family) => Object.keys(family).map((name) => name.toLowerCase())));
    expect(gone).toContain('geoshape');
    const asked = new Set<string>();
    for (const caseOf of Object.values(CHARTS))
      for (const amount of AMOUNTS)
        for (const frame of FRAMES) transformsIn(compile(caseOf(amount).draw(frame)).spec, asked);
    expect(asked).toContain('formula');
    expect([...asked].filter((type) => gone.has(type))).toEqual([]);
  });
});

/** Names of the transforms anywhere in a compiled chart. */
function transformsIn(value: unknown, found: Set<string>): void {
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value)) {
    if (key === 'transform' && Array.isArray(inner)) for (const { type } of inner) found.add(type);
    transformsIn(inner, found);
  }
}

describe('the check by schema', () => {
  it('finds a misspelt mark, an unknown property and a wrong type', () => {
    const good = { data: { values: [] }, mark: 'point', encoding: {} };
    expect(schemaFaults(good)).toEqual([]);
    expect(schemaFaults({ ...good, mark: 'pint' })).not.toEqual([]);
    expect(schemaFaults({ ...good, encoding: { x: { feild: 'a' } } })).not.toEqual([]);
    expect(schemaFaults({ ...good, width: [3] })).not.toEqual([]);
  });
});

/** The picture without a browser, its title left to the page, and every warning on the way. */
async function drawnAs(spec: Spec): Promise<{ picture: string; heard: string[] }> {
  const heard: string[] = [];
  const hear = (...said: readonly unknown[]) => {
    heard.push(said.map(String).join(' '));
    return logger;
  };
  const logger = { level: () => logger, warn: hear, error: hear, info: () => logger, debug: () => logger };
  const { title: _, ...untitled } = spec as Spec & { title?: unknown };
  const compiled = compile(untitled as Spec, { logger: logger as never }).spec;
  const view = new View(parse(compiled), { renderer: 'none', logger: logger as never });
  const picture = await view.toSVG();
  view.finalize();
  return { picture, heard };
}

function deepFreeze(value: unknown): void {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return;
  Object.freeze(value);
  Object.values(value).forEach(deepFreeze);
}
