// What leaves a page for another one, by the student's own hand: a record as a file or a code, a problem by its address.

import { make } from "./dom.js";
import { codeOfRecord, recordOfCode } from "./record_code.js";
import { soundRecord } from "./store.js";
import { say } from "./text.js";

/** A file that is no record: longer than any, or not of its kind. */
const LONGEST_RECORD = 2_000_000;

/** What the address of a record's code begins with, behind "#". */
export const RECORD_CODE = "record:";

/** Save a record as a file. */
export function saveRecord(record) {
  const file = new Blob([JSON.stringify(record, null, 1)], { type: "application/json" });
  const link = make("a", { href: URL.createObjectURL(file), download: "practice-record.json" });
  link.click();
  URL.revokeObjectURL(link.href);
}

/** The record of a file that "saveRecord" made; null for any other. */
export async function recordInFile(file) {
  if (file.size > LONGEST_RECORD) return null;
  try {
    const value = JSON.parse(await file.text());
    return Number.isInteger(value?.version) ? soundRecord(value) : null;
  } catch {
    return null;
  }
}

/** What stands behind "#" in a link, a code, or either with spaces round it. */
export function codeIn(text) {
  const plain = text.trim();
  const hash = plain.includes("#") ? plain.slice(plain.indexOf("#") + 1) : plain;
  try {
    return decodeURIComponent(hash);
  } catch {
    return hash;
  }
}

/** The record in a code, or in a link with one; null for anything else. */
export function recordInCode(text) {
  const code = codeIn(text);
  return recordOfCode(code.startsWith(RECORD_CODE) ? code.slice(RECORD_CODE.length) : code);
}

/** A local file has another address on every device. */
const isLocal = () => window.location.protocol === "file:";

/** The address of what stands behind "#": whole where the page has one for everybody, else that part alone. */
const addressOf = (hash) => (isLocal() ? hash : `${window.location.href.split("#")[0]}#${hash}`);

/** Copy the address of a problem, and say what to do with it; where nothing can be copied, it is shown. */
export async function shareProblem() {
  const address = addressOf(window.location.hash.slice(1));
  const way = isLocal() ? "code" : "link";
  return say((await wasCopied(address)) ? `problem.${way}.copied` : `problem.${way}.shown`, { address });
}

/** Copy a record's code, and say what to do with it. */
export async function shareRecord(record) {
  const address = addressOf(RECORD_CODE + (await codeOfRecord(record)));
  return say((await wasCopied(address)) ? "record.code.copied" : "record.code.shown", { address });
}

async function wasCopied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}
