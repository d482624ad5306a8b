// Readers that keep what they read: what is judged again need not be read again.

/** A long session's worth; then all is forgotten at once. */
const MOST_KEPT = 2000;

/** A reader of text that keeps what it read, and what it refused by an error of a class. */
export function keeping(read, Refusal) {
  const kept = new Map();
  const tried = (text) => {
    try {
      return { found: read(text) };
    } catch (error) {
      if (error instanceof Refusal) return { refused: error };
      throw error;
    }
  };
  return (text) => {
    if (kept.size > MOST_KEPT) kept.clear();
    if (!kept.has(text)) kept.set(text, tried(text));
    const { found, refused } = kept.get(text);
    if (refused) throw refused;
    return found;
  };
}
