// Printed fragments are packed: what is common to all variants of a template stands once, with gaps for the numbers.

/** What the page needs only later, as it is carried: base64 of deflated JSON. */
export async function grown(text) {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return JSON.parse(await new Response(stream).text());
}

/** Data as `grown` takes it. */
export async function shrunk(data) {
  const stream = new Blob([JSON.stringify(data)]).stream().pipeThrough(new CompressionStream("deflate"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}

/** Whether this browser can unpack it. */
export const canGrow = () => typeof DecompressionStream === "function";

/** A fragment: the skeleton that it is of, then the texts that fill its gaps. */
export function unpacked(skeletons, [skeleton, ...gaps]) {
  return skeletons[skeleton].map((piece) => (typeof piece === "number" ? gaps[piece] : piece)).join("");
}
