import type { Config, TopLevelSpec } from 'vega-lite';

/** A Vega-Lite specification, whole. */
export type Spec = TopLevelSpec;

/**
 * Colours with a meaning: ink = weighed or tasted, liquid = predicted, aim = target. `bands` is one hue from thin to
 * strong, for values that rise.
 */
export interface ChartTheme {
  paper: string;
  ink: string;
  soft: string;
  rule: string;
  edge: string;
  liquid: string;
  aim: string;
  bands: readonly string[];
}

export const LIGHT: ChartTheme = {
  paper: '#f5f8f7',
  ink: '#17211f',
  soft: '#51605c',
  rule: '#c3cecb',
  edge: '#7b8b86',
  liquid: '#0b5a54',
  aim: '#a34a00',
  bands: ['#e9f2f0', '#d0e4e1', '#b4d4cf', '#97c3bc', '#78b0a8', '#62a298', '#4b948b'],
};

export const DARK: ChartTheme = {
  paper: '#121716',
  ink: '#e8eeeb',
  soft: '#a3b1ac',
  rule: '#3a4744',
  edge: '#74857f',
  liquid: '#43b8aa',
  aim: '#ffb072',
  bands: ['#182220', '#1a2a27', '#1d3431', '#21403b', '#274e48', '#2f5f58', '#38756e'],
};

/** How big the place is and how bright, as every chart is given. */
export interface ChartFrame {
  /** Pixels across. */
  width: number;
  theme: ChartTheme;
}

export const FONT = 'system-ui, sans-serif';

export const SCHEMA = 'https://vega.github.io/schema/vega-lite/v6.json';

/** What all charts share: the type, quiet rules, no frame. */
export function baseConfig(theme: ChartTheme): Config {
  return {
    background: 'transparent',
    font: FONT,
    // The page says in words what a chart shows; its marks are no reading matter.
    aria: false,
    view: { stroke: null },
    padding: 4,
    title: { color: theme.ink, fontSize: 14, fontWeight: 600, anchor: 'start', offset: 10 },
    axis: {
      labelColor: theme.soft,
      titleColor: theme.soft,
      labelFontSize: 12,
      titleFontSize: 12,
      titleFontWeight: 'normal',
      domainColor: theme.edge,
      tickColor: theme.edge,
      gridColor: theme.rule,
    },
    header: { labelColor: theme.ink, titleColor: theme.soft, labelFontSize: 12, labelFontWeight: 'normal' },
    text: { color: theme.ink, fontSize: 12 },
  };
}
