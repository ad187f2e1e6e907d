/**
 * Marks whose places are reckoned beforehand, in pixels: each carries its own look, so that all of a kind are one layer,
 * however many looks there are. A layer costs the browser more than the marks in it.
 */
export interface Area {
  x: number;
  x2: number;
  y: number;
  y2: number;
  /** Opacity within, and width of the dashed edge. */
  fill: number;
  edge: number;
}

export interface Line {
  x: number;
  x2: number;
  y: number;
  y2: number;
  color: string;
  thick: number;
}

export interface Text {
  x: number;
  y: number;
  label: string;
  color: string;
  size: number;
  align: 'left' | 'right';
  /** Pixels that it may take. */
  most: number;
}

const OWN_COLOR = { field: 'color', type: 'nominal', scale: null };

/** All areas of one colour as one layer. */
export function areas(all: readonly Area[], color: string) {
  return {
    data: { values: all },
    mark: {
      type: 'rect',
      color,
      stroke: color,
      fillOpacity: { expr: 'datum.fill' },
      strokeWidth: { expr: 'datum.edge' },
      strokeDash: [3, 3],
    },
    encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
  };
}

/** All lines as one layer. */
export function rules(lines: readonly Line[]) {
  return {
    data: { values: lines },
    mark: { type: 'rule', strokeWidth: { expr: 'datum.thick' } },
    encoding: { x2: { field: 'x2' }, y2: { field: 'y2' }, color: OWN_COLOR },
  };
}

/** All texts as one layer. */
export function texts(all: readonly Text[]) {
  return {
    data: { values: all },
    mark: {
      type: 'text',
      align: { expr: 'datum.align' },
      fontSize: { expr: 'datum.size' },
      limit: { expr: 'datum.most' },
    },
    encoding: { text: { field: 'label' }, color: OWN_COLOR },
  };
}
