// Progress, on this device only. Nothing is sent anywhere.

const KEY = "problemgen practice";
const VERSION = 1;

/** A record without anything in it. */
export const emptyRecord = () => ({ version: VERSION, topics: {}, mistakes: {}, seen: {} });

const isRecord = (value) =>
  value !== null &&
  typeof value === "object" &&
  value.version === VERSION &&
  ["topics", "mistakes", "seen"].every((key) => value[key] !== null && typeof value[key] === "object");

/** The record kept in a storage; an empty one where there is none, or one that cannot be read. */
export function readRecord(storage) {
  try {
    const value = JSON.parse(storage.getItem(KEY) ?? "null");
    return isRecord(value) ? value : emptyRecord();
  } catch {
    return emptyRecord();
  }
}

/** Keep the record; whether that was possible. */
export function keepRecord(storage, record) {
  try {
    storage.setItem(KEY, JSON.stringify(record));
    return true;
  } catch {
    return false;
  }
}

/** Wipe the record. */
export function wipeRecord(storage) {
  try {
    storage.removeItem(KEY);
  } catch {
    // Nothing was kept where nothing can be wiped.
  }
}

/** The browser's storage, or one that forgets when the page is closed. */
export function deviceStorage() {
  try {
    const storage = window.localStorage;
    storage.getItem(KEY);
    return storage;
  } catch {
    const kept = new Map();
    return {
      forgets: true,
      getItem: (key) => kept.get(key) ?? null,
      setItem: (key, value) => kept.set(key, value),
      removeItem: (key) => kept.delete(key),
    };
  }
}

const EMPTY_TOPIC = { alone: 0, helped: 0 };

/** The record after a problem was solved, with help (hints or the worked solution) or without. */
export function withSolved(record, topic, helped) {
  const before = record.topics[topic] ?? EMPTY_TOPIC;
  const key = helped ? "helped" : "alone";
  return { ...record, topics: { ...record.topics, [topic]: { ...before, [key]: before[key] + 1 } } };
}

/** The record after a problem was looked at. */
export function withSeen(record, template, code) {
  const codes = record.seen[template] ?? [];
  if (codes.includes(code)) return record;
  return { ...record, seen: { ...record.seen, [template]: [...codes, code] } };
}
