import type { Brief } from '../schema/brief.ts';
import type { DemoRound } from './demo-round-one.ts';

/** The demo's round as the text of `mixes.csv`: grams as weighed. */
export function demoMixesCsv(brief: Brief, round: DemoRound): string {
  const components = brief.components.map(({ id }) => id);
  const rows = round.mixes.map(({ mix, blend, weighed, dose }) => {
    return [mix, blend, 1, ...components.map((id) => weighed[id]!), dose];
  });
  return table([['mix', 'blend', 'round', ...components, 'dose'], ...rows]);
}

/** The demo's round as the text of `scores.csv`; a missing answer is an empty cell. */
export function demoScoresCsv(brief: Brief, round: DemoRound): string {
  const attributes = brief.attributes.map(({ id }) => id);
  const rows = round.scores.map(({ mix, assessor, session, replicate, position, scores }) => {
    const cells = attributes.map((id) => scores[id] ?? '');
    return [mix, assessor, session, replicate, position, ...cells];
  });
  return table([['mix', 'assessor', 'session', 'replicate', 'position', ...attributes], ...rows]);
}

function table(rows: readonly (readonly (string | number)[])[]): string {
  return rows.map((row) => `${row.join(',')}\n`).join('');
}
