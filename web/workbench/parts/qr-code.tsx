/** A square code to scan; it comes as a drawing and is shown as a picture, so that nothing in it can run. */
export function QrCode({ of, says }: { of: string; says: string }) {
  return (
    <img
      class="qr"
      alt={says}
      src={`data:image/svg+xml,${encodeURIComponent(of)}`}
      width="220"
      height="220"
    />
  );
}
