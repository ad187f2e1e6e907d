/**
 * The way on from the page that is open now, for when what was asked for is done. Who has gone elsewhere meanwhile is
 * left there: a late answer calls nobody back.
 */
export function wayOn(): (address: string) => void {
  const here = location.hash;
  return (address) => {
    if (location.hash === here) location.hash = address;
  };
}
