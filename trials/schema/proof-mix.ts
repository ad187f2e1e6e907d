/** Whether a mix is a formula weighed afresh to be proved: `proof`, `proof2`, … */
export function isProofMix(mix: string): boolean {
  return /^proof\d*$/.test(mix);
}
