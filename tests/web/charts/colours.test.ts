import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type ChartTheme, DARK, LIGHT } from '../../../web/charts/theme.ts';

type Rgb = readonly [number, number, number];

function rgb(hex: string): Rgb {
  return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255) as unknown as Rgb;
}

function linear(channel: number): number {
  return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
}

/** Relative luminance and contrast by WCAG 2.2. */
function contrast(a: string, b: string): number {
  const light = (hex: string) => {
    const [r, g, b2] = rgb(hex).map(linear) as unknown as Rgb;
    return 0.2126 * r + 0.7152 * g + 0.0722 * b2;
  };
  const [high, low] = [light(a), light(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

/** Full-strength simulations of colour blindness in linear light (Machado, Oliveira and Fernandes 2009, severity 1.0). */
const BLIND: Record<string, readonly Rgb[]> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** Distance in CIE L*a*b* (1976) of two colours as seen through a matrix. */
function seenApart(a: string, b: string, matrix: readonly Rgb[]): number {
  const [p, q] = [lab(a, matrix), lab(b, matrix)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

function lab(hex: string, matrix: readonly Rgb[]): Rgb {
  const light = rgb(hex).map(linear) as unknown as Rgb;
  const [r, g, b] = matrix.map((row) =>
    Math.min(1, Math.max(0, row[0] * light[0] + row[1] * light[1] + row[2] * light[2])),
  ) as unknown as Rgb;
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (841 / 108) * t + 4 / 29);
  const x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
  const y = f(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
  const z = f((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const IDENTITY: readonly Rgb[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

describe.each<[string, ChartTheme]>([
  ['light', LIGHT],
  ['dark', DARK],
])('colours, %s', (_, theme) => {
  it('of words reach 4.5 : 1 on paper, of marks and rules that matter 3 : 1', () => {
    for (const colour of [theme.ink, theme.soft, theme.liquid, theme.aim])
      expect(contrast(colour, theme.paper)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(theme.edge, theme.paper)).toBeGreaterThanOrEqual(3);
  });

  it('of labels reach 4.5 : 1 on every band of the triangle', () => {
    for (const band of theme.bands) expect(contrast(theme.ink, band)).toBeGreaterThanOrEqual(4.5);
  });

  it('of bands rise evenly from thin to strong', () => {
    const steps = theme.bands.map((band) => contrast(band, theme.paper));
    for (let i = 1; i < steps.length; i++) expect(steps[i]!).toBeGreaterThan(steps[i - 1]!);
  });

  it('with a meaning stay apart for every kind of eye (20 in L*a*b*)', () => {
    const meaning = [theme.ink, theme.liquid, theme.aim];
    for (const matrix of [IDENTITY, ...Object.values(BLIND)])
      for (const [i, a] of meaning.entries())
        for (const b of meaning.slice(i + 1)) expect(seenApart(a, b, matrix)).toBeGreaterThan(20);
  });
});

describe('the style sheet', () => {
  const css = readFileSync(new URL('../../../web/workbench/style/tokens.css', import.meta.url), 'utf8');

  it('names the same colours as the charts', () => {
    for (const key of ['paper', 'ink', 'soft', 'rule', 'edge', 'liquid', 'aim'] as const)
      expect(css).toContain(`--${key}: light-dark(${LIGHT[key]}, ${DARK[key]})`);
  });

  it('keeps words readable on every ground that they stand on', () => {
    const token = (name: string, side: 0 | 1) =>
      css.match(new RegExp(`--${name}: light-dark\\((#\\w+), (#\\w+)\\)`))![side + 1]!;
    for (const side of [0, 1] as const) {
      for (const ground of ['paper', 'sheet', 'liquid-thin'])
        for (const words of ['ink', 'soft', 'liquid'])
          expect(contrast(token(words, side), token(ground, side))).toBeGreaterThanOrEqual(4.5);
      expect(contrast(token('on-liquid', side), token('liquid', side))).toBeGreaterThanOrEqual(4.5);
      expect(contrast(token('ink', side), token('liquid-mid', side))).toBeGreaterThanOrEqual(3);
    }
  });
});
