/** A small example of each file; the words over the columns may be others. */
export function WhatTheyLookLike() {
  return (
    <details>
      <summary>What such files look like</summary>
      <p>
        Save each sheet of the spreadsheet as CSV. One row for each mix, with the grams that the balance
        showed:
      </p>
      <pre class="sample">{'mix,peel oil,lime oil,dose\nA,1.42,0.92,0.25\nB,0.80,1.49,0.25'}</pre>
      <p>One row for each cup that somebody tasted, with a column for each score:</p>
      <pre class="sample">{'taster,sitting,mix,bitter,fresh\nP1,Tuesday,A,61,40\nP1,Tuesday,B,38,55'}</pre>
      <p class="small soft">
        Commas or semicolons between cells, decimal points or decimal commas; an empty cell is a missing
        score. Other columns may stand there too.
      </p>
    </details>
  );
}
