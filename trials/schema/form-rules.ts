import type { Brief } from './brief.ts';
import { formOf, isWhole, RIGHT_WORDS, stepsOf } from './scale-form.ts';
import type { Report } from './schema-faults.ts';

/** What the form of an attribute asks of its scale and its words. */
export function checkForm(brief: Brief, index: number, report: Report): void {
  const attribute = brief.attributes[index]!;
  const { scale, words = [] } = attribute;
  const form = formOf(attribute);
  const path = ['attributes', index];
  if (form !== 'line' && !isWhole(scale))
    report.fault([...path, 'scale'], scale, `whole numbers at both ends, as ${form} asks`);
  else if (form === 'liking' && (scale[0] !== 1 || scale[1] !== 9))
    report.fault([...path, 'scale'], scale, '[1, 9], the nine steps of liking');
  else if (form === 'just-about-right' && stepsOf(scale) % 2 === 0)
    report.fault([...path, 'scale'], scale, 'an odd number of steps, so that one is the middle');
  else if (form !== 'line' && stepsOf(scale) > MOST_STEPS)
    report.fault([...path, 'scale'], scale, `at most ${MOST_STEPS} steps`);
  else checkWords(attribute, [...path, 'words'], words.length, report);
}

const MOST_STEPS = 21;

function checkWords(
  attribute: Brief['attributes'][number],
  path: (string | number)[],
  count: number,
  report: Report,
): void {
  const form = formOf(attribute);
  const steps = stepsOf(attribute.scale);
  const ends = form === 'line' || form === 'points';
  const own = form === 'liking' || (form === 'just-about-right' && steps === RIGHT_WORDS.length);
  if (count === 0 && (ends || own)) return;
  if (count === (ends ? 2 : steps)) return;
  const allowed = ends ? 'two words, one for each end' : `${steps} words, one for each step`;
  report.fault(path, attribute.words ?? 'none', allowed);
}

/** Rankings take two words, one for each end. */
export function checkAsides({ asides }: Brief, report: Report): void {
  asides.forEach(({ form, words = [] }, index) => {
    if (form === 'ranking' && words.length !== 0 && words.length !== 2)
      report.fault(['asides', index, 'words'], words, 'two words: the least and the most');
  });
}
