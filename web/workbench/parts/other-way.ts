import { options, type VNode } from 'preact';

/** Marks that set a piece of text off from the direction of what stands around it (Unicode UAX #9). */
const [OFF, ON] = ['\u2068', '\u2069'];

/** A run of Arabic, Hebrew and their like: letters with the marks, spaces and hyphens between them. */
const RUN =
  /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc](?:[\p{M}\s.’'"()-]*[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc])*/gu;

/** Sets off what is written from right to left, so that a colon and a figure after a name stay after it. */
export function setOff(text: string): string {
  return text.replace(RUN, `${OFF}$&${ON}`);
}

/** From now on every text of a page is so written, wherever its words come from. */
export function setOffAllText(): void {
  const before = options.vnode;
  options.vnode = (node: VNode) => {
    // A text is a node without a type whose properties are the text.
    const text = node as { type: unknown; props: unknown };
    if (text.type === null && typeof text.props === 'string') text.props = setOff(text.props);
    before?.(node);
  };
}
