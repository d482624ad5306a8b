// A record as a code that fits into a link: what was shown of each idea, without the drafts and the problems seen.

import { grown, shrunk } from "./packing.js";
import { soundRecord } from "./store.js";

const CARRIED = ["version", "ideas", "mistakes", "alone", "helped", "turn", "level"];
/** Longer than the code of any record, twelve problems of each of twenty ideas; it unpacks to 15 MB at most. */
const LONGEST_CODE = 20_000;

/** The code of a record: letters, figures, "-" and "_". */
export async function codeOfRecord(record) {
  const carried = Object.fromEntries(CARRIED.map((key) => [key, record[key]]));
  const packed = await shrunk(carried);
  return packed.replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** The record of a code; null for what is none. */
export async function recordOfCode(code) {
  const text = code.trim().replaceAll("-", "+").replaceAll("_", "/");
  if (text.length > LONGEST_CODE || !/^[A-Za-z0-9+/]+$/.test(text)) return null;
  try {
    const value = await grown(text);
    return Number.isInteger(value?.version) ? soundRecord(value) : null;
  } catch {
    return null;
  }
}
