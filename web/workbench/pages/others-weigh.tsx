import type { Brief } from '../../../trials/schema/brief.ts';
import { chance } from '../numbers.ts';
import { Scroll } from '../parts/scroll.tsx';
import type { NextResult } from '../results.ts';

/** Whole parts near the best ratio, with what they cost in chance and what a careless pour leaves of it. */
export function OthersWeigh({ brief, result }: { brief: Brief; result: NextResult }) {
  const { formulas = [] } = result;
  if (formulas.length === 0) return null;
  const tools = formulas[0]!.forgives;
  return (
    <section>
      <h3>In whole parts, for others to weigh</h3>
      <Scroll label="formulas in whole parts">
        <table>
          <thead>
            <tr>
              <th scope="col">parts</th>
              {formulas.map(({ kind }) => (
                <th key={kind} scope="col" class="n">
                  {kind}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {brief.components.map(({ id, name }, i) => (
              <tr key={id}>
                <th scope="row">
                  <span class="row-name">{name}</span>
                </th>
                {formulas.map(({ kind, parts }) => (
                  <td key={kind} class="n">
                    {parts[i]}
                  </td>
                ))}
              </tr>
            ))}
            <tr>
              <th scope="row">Chance of a match</th>
              {formulas.map((one) => (
                <td key={one.kind} class="n">
                  {chance(one.chance)}
                </td>
              ))}
            </tr>
            {tools.map(({ tool, grams }, t) => (
              <tr key={tool}>
                <th scope="row">
                  <span class="row-name">
                    with a {tool}, each pour up to {grams} g off
                  </span>
                </th>
                {formulas.map(({ kind, forgives }) => (
                  <td key={kind} class="n">
                    {chance(forgives[t]?.chance)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <p class="small soft">
        For a mix of {brief.batch.grams} g; in a larger one the same slip matters less.
      </p>
    </section>
  );
}
