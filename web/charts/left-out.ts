/**
 * Families of Vega's transforms (`vega-…`) that no chart here asks for: the build leaves them out of what draws charts,
 * and a test holds every chart to it.
 */
export const LEFT_OUT = [
  'geo',
  'force',
  'hierarchy',
  'label',
  'regression',
  'voronoi',
  'wordcloud',
  'crossfilter',
] as const;
