/**
 * A name in at most so many characters: what is left out is left out of its middle, since names often differ only at
 * their ends.
 */
export function shortened(name: string, characters: number): string {
  const signs = [...name];
  if (signs.length <= characters) return name;
  const end = Math.floor((characters - 1) / 2);
  const begin = characters - 1 - end;
  return `${signs.slice(0, begin).join('').trimEnd()}…${signs
    .slice(signs.length - end)
    .join('')
    .trimStart()}`;
}

/**
 * Breaks a name into lines of at most so many characters, at spaces; a word that is longer is shortened. Where there
 * are too many lines, the last holds the name's end.
 */
export function wrapped(name: string, characters: number, most = 3): string[] {
  const words = name.split(' ').map((word) => shortened(word, characters));
  const lines = filled(words, characters);
  if (lines.length <= most) return lines;
  const end: string[] = [];
  for (const word of [...words].reverse()) {
    if (['…', word, ...end].join(' ').length > characters && end.length > 0) break;
    end.unshift(word);
  }
  return [...lines.slice(0, most - 1), shortened(`… ${end.join(' ')}`, Math.max(characters, 3))];
}

function filled(words: readonly string[], characters: number): string[] {
  const lines: string[] = [];
  for (const word of words) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length + 1 <= characters)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Pixels of one character of a label, of a narrow, a broad and a full-width one. */
const SIGN = 7;
const NARROW = 4.2;
const BROAD = 12;

/** About how many pixels a label of twelve pixels takes. */
export function widthOf(name: string): number {
  const narrow = name.match(/[ .,:;'!()ijltfrI-]/g)?.length ?? 0;
  const broad = name.match(/[mwMW…\u1100-\u11ff\u2e80-\ud7ff\uf900-\ufaff\uff00-\uff60]/g)?.length ?? 0;
  return SIGN * (name.length - narrow - broad) + NARROW * narrow + BROAD * broad;
}

/** A name in at most so many pixels, its middle left out where it is longer. */
export function fitted(name: string, pixels: number): string {
  let shown = name;
  for (let most = [...name].length; most > 3 && widthOf(shown) > pixels; ) shown = shortened(name, --most);
  return shown;
}

/** An axis that names mixes down its side, each in so many pixels. */
export function nameAxis(color: string, pixels = 90) {
  return { title: null, domain: false, ticks: false, labelColor: color, ...labelsWithin(pixels) };
}

/** Labels of an axis or a header in so many pixels each, the middle left out of longer ones. */
export function labelsWithin(pixels: number) {
  const characters = Math.floor(pixels / SIGN);
  return { labelLimit: pixels, labelExpr: `truncate(datum.label, ${characters}, 'center', '…')` };
}
