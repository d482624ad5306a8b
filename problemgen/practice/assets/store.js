// Progress, on this device only. Nothing is sent anywhere.
//
// The record is read anew before each change, so that two tabs add up. Each problem that was begun has a draft of its
// own beside it: what is written, checked and opened.

const KEY = "problemgen practice";
const VERSION = 2;
/** Drafts that are kept: the latest. */
const MOST_DRAFTS = 60;

/** A record without anything in it. */
const emptyRecord = () => ({
  version: VERSION,
  ideas: {},
  mistakes: {},
  seen: {},
  drafts: [],
  alone: 0,
  helped: 0,
  turn: 0,
  level: 1,
  streak: 0,
  wanted: "",
});

const isText = (value) => typeof value === "string";
const isCount = (value) => Number.isSafeInteger(value) && value >= 0;
const isObject = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
const isTexts = (value) => Array.isArray(value) && value.every(isText);
const isLogged = (value) => Array.isArray(value) && isText(value[0]) && ["right", "missed"].includes(value[1]);
const isIdea = (value) =>
  isObject(value) &&
  Array.isArray(value.log) &&
  value.log.every(isLogged) &&
  isCount(value.stage) &&
  (value.due === null || isCount(value.due));

/** Of an object, what is in order; nothing of anything else. */
const sound = (value, isSound) =>
  Object.fromEntries(Object.entries(isObject(value) ? value : {}).filter(([, one]) => isSound(one)));

/** A record out of whatever was kept: what is damaged is left out, and what an earlier version kept is taken over. */
export function soundRecord(value) {
  const empty = emptyRecord();
  if (!isObject(value)) return empty;
  const mistakes = Object.entries(isObject(value.mistakes) ? value.mistakes : {}).map(([family, one]) => [
    family,
    isObject(one) ? one.met : one,
  ]);
  const count = (key, least = 0) => (isCount(value[key]) && value[key] >= least ? value[key] : empty[key]);
  return {
    ...empty,
    ideas: sound(value.ideas, isIdea),
    mistakes: sound(Object.fromEntries(mistakes), isCount),
    seen: sound(value.seen, isTexts),
    drafts: isTexts(value.drafts) ? value.drafts : [],
    alone: count("alone"),
    helped: count("helped"),
    turn: count("turn"),
    level: Math.min(count("level", 1), 5),
    streak: Number.isSafeInteger(value.streak) ? value.streak : 0,
    wanted: isText(value.wanted) ? value.wanted : "",
  };
}

/** A draft out of whatever was kept. */
function soundDraft(value) {
  if (!isObject(value)) return emptyDraft();
  return {
    answers: sound(value.answers, isText),
    checked: isTexts(value.checked) ? value.checked : [],
    tried: isTexts(value.tried) ? value.tried : [],
    shown: sound(value.shown, isCount),
    lines: sound(value.lines, isTexts),
    solved: value.solved === true,
  };
}

export const emptyDraft = () => ({ answers: {}, checked: [], tried: [], shown: {}, lines: {}, solved: false });

const parsed = (text) => {
  try {
    return JSON.parse(text ?? "null");
  } catch {
    return null;
  }
};

/** What a device keeps for the page; where it keeps nothing, all is remembered until the page is closed. */
export class Store {
  constructor(storage) {
    this.storage = storage;
    this.forgets = storage === null;
    this.kept = new Map();
  }

  /** Keep a text; where the device does not, remember it, and note that it forgets. */
  set(key, text) {
    this.kept.set(key, text);
    if (this.forgets) return;
    try {
      this.storage.setItem(key, text);
    } catch {
      this.forgets = true;
    }
  }

  get(key) {
    if (this.forgets) return this.kept.get(key) ?? this.read(key);
    return this.read(key);
  }

  read(key) {
    try {
      return this.storage?.getItem(key) ?? null;
    } catch {
      return null;
    }
  }

  remove(key) {
    this.kept.delete(key);
    try {
      this.storage?.removeItem(key);
    } catch {
      // Nothing was kept where nothing can be wiped.
    }
  }

  get record() {
    return soundRecord(parsed(this.get(KEY)));
  }

  /** Change the record as it stands now, whoever changed it last; the record after it. */
  change(update) {
    const record = update(this.record);
    this.set(KEY, JSON.stringify(record));
    return record;
  }

  /** What the draft of a problem is kept under. */
  keyOf(problem) {
    return `${KEY} ${problem}`;
  }

  draft(problem) {
    return soundDraft(parsed(this.get(this.keyOf(problem))));
  }

  /** Keep a draft; the oldest gives way. */
  keepDraft(problem, draft) {
    this.set(this.keyOf(problem), JSON.stringify(draft));
    if (this.record.drafts.at(-1) === problem) return;
    this.change((record) => {
      const drafts = [...record.drafts.filter((one) => one !== problem), problem];
      drafts.slice(0, -MOST_DRAFTS).forEach((one) => this.remove(this.keyOf(one)));
      return { ...record, drafts: drafts.slice(-MOST_DRAFTS) };
    });
  }

  /** A problem that comes again is empty; of which parts something was tried or opened stays known: they count no more. */
  beginAnew(problem) {
    const { tried, shown } = this.draft(problem);
    this.keepDraft(problem, { ...emptyDraft(), tried: [...new Set([...tried, ...Object.keys(shown)])] });
  }

  wipe() {
    this.record.drafts.forEach((one) => this.remove(this.keyOf(one)));
    this.remove(KEY);
  }
}

/** The record after a problem was solved, with help (hints or the worked solution) or without. */
export function withSolved(record, helped) {
  return helped ? { ...record, helped: record.helped + 1 } : { ...record, alone: record.alone + 1 };
}

/** The record after a problem was looked at: the first time it is a turn. */
export function withSeen(record, template, code) {
  const codes = record.seen[template] ?? [];
  if (codes.includes(code)) return record;
  return { ...record, turn: record.turn + 1, seen: { ...record.seen, [template]: [...codes, code] } };
}

/** The record after a usual mistake was made. */
export function withMistake(record, family) {
  return { ...record, mistakes: { ...record.mistakes, [family]: (record.mistakes[family] ?? 0) + 1 } };
}

/** Two records as one: of each idea all that was shown, of what is counted the larger number. */
export function merged(one, other) {
  const keys = (of) => new Set([...Object.keys(one[of]), ...Object.keys(other[of])]);
  const each = (of, join) => Object.fromEntries([...keys(of)].map((key) => [key, join(one[of][key], other[of][key])]));
  const larger = (key) => Math.max(one[key], other[key]);
  return {
    ...one,
    ideas: each("ideas", mergedIdea),
    mistakes: each("mistakes", (a = 0, b = 0) => Math.max(a, b)),
    seen: each("seen", (a = [], b = []) => [...new Set([...a, ...b])]),
    ...Object.fromEntries(["alone", "helped", "turn", "level"].map((key) => [key, larger(key)])),
  };
}

function mergedIdea(one, other) {
  if (!one || !other) return one ?? other;
  const codes = new Set(one.log.map(([code]) => code));
  const log = [...one.log, ...other.log.filter(([code]) => !codes.has(code))];
  const due = one.due === null ? other.due : other.due === null ? one.due : Math.min(one.due, other.due);
  return { log, stage: Math.min(one.stage, other.stage), due };
}
