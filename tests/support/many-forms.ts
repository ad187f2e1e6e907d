import { Brief } from '../../trials/schema/brief.ts';
import { smallBrief } from './small-trial.ts';

/** A brief that asks in every form there is. */
export function manyForms(): Brief {
  const attributes = [
    { id: 'bitter', name: 'Bitter', scale: [0, 100], words: ['faint', 'strong'] },
    { id: 'fresh', name: 'Fresh', scale: [1, 3], form: 'categories', words: ['flat', 'fresh', 'sharp'] },
    { id: 'liking', name: 'Liking', scale: [1, 9], form: 'liking', target: 'most' },
    { id: 'sweet', name: 'Sweet', scale: [1, 5], form: 'just-about-right' },
  ];
  const asides = [
    { id: 'order', name: 'Bitterness', form: 'ranking' },
    { id: 'notes', name: 'What else?', form: 'describe', words: ['soap', 'pith'] },
  ];
  const { panel } = smallBrief();
  return Brief.parse({ ...smallBrief(), attributes, asides, panel: { ...panel, lingers: true } });
}
