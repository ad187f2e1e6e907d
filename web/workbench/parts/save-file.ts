/** Gives the maker a file to keep. */
export function saveFile(name: string, address: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
}

/** The same for text. */
export function saveText(name: string, text: string, kind: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: kind }));
  saveFile(name, address);
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
