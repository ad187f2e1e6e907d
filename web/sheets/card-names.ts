/** Names of what a card prints, with units and scales. */
export interface CardNames {
  components: readonly { id: string; name: string }[];
  settings: readonly { id: string; name: string; unit: string }[];
  attributes: readonly { id: string; name: string; scale: readonly [number, number] }[];
}
