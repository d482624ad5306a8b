// Printed fragments are packed: what is common to all variants of a template stands once, with gaps for the numbers.

/** A fragment: the skeleton that it is of, then the texts that fill its gaps. */
export function unpacked(skeletons, [skeleton, ...gaps]) {
  return skeletons[skeleton].map((piece) => (typeof piece === "number" ? gaps[piece] : piece)).join("");
}
