import embed, { type Result, type VisualizationSpec } from 'vega-embed';
import { FONT, type Spec } from '../../charts/theme.ts';

/** The browser looks fonts up when they are first measured: here while the page still waits for its numbers. */
const pen = document.createElement('canvas').getContext('2d');
for (const size of [12, 13]) {
  if (pen === null) break;
  pen.font = `${size}px ${FONT}`;
  pen.measureText('m');
}

/** Draws a chart without eval and without style sheets of its own, so that the strictest content policy holds. */
export async function draw(place: HTMLElement, spec: Spec): Promise<Result> {
  const drawn = await embed(place, spec as VisualizationSpec, {
    ast: true,
    defaultStyle: false,
    actions: false,
    renderer: 'svg',
    tooltip: { disableDefaultStyle: true },
  });
  // The place itself is labelled, and its numbers stand in a table: the marks would only be read out one by one.
  for (const name of ['role', 'aria-label', 'aria-roledescription']) place.removeAttribute(name);
  place.setAttribute('aria-hidden', 'true');
  return drawn;
}

/** The picture as a file: a drawing, or pixels at twice the size. */
export async function pictureOf(spec: Spec, kind: 'svg' | 'png', paper: string): Promise<string> {
  const place = document.createElement('div');
  const drawn = await draw(place, { ...spec, background: paper } as Spec);
  try {
    return await drawn.view.toImageURL(kind, 2);
  } finally {
    drawn.finalize();
  }
}
