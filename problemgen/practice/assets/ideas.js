// What a student has shown of each idea, and when an idea comes back.
//
// A problem says one thing of an idea. A part that was right at the first check and without a hint counts for the ideas
// that it exercises; a usual mistake that is named counts against the idea of the step it is made at, and outweighs what
// else the problem shows of it. A hint or the worked solution counts as seen, and nothing else counts. An idea is steady
// when the last three problems that said anything of it said "right" (own choice: with two, a guess that luck made right
// would do; with four, a session of ten minutes shows none).
//
// An idea that was missed comes back after one, three and seven other problems. Growing distances between repetitions:
// common practice, no source.

const STEADY = 3;
const WAITS = [1, 3, 7];
/** Problems that are remembered of an idea. */
const MOST_LOGGED = 12;

const unknown = () => ({ log: [], stage: 0, due: null });

/** What the problems said of an idea, in order: "right" or "missed". */
const outcomes = (idea) => idea.log.map(([, got]) => got);

/** The state of an idea, one of "new", "shaky", "steady". */
export function stateOf(record, key) {
  const got = outcomes(record.ideas[key] ?? unknown());
  if (!got.length) return "new";
  const last = got.slice(-STEADY);
  return last.length === STEADY && last.every((one) => one === "right") ? "steady" : "shaky";
}

/** How often an idea was missed in the last problems that said anything of it: [times, of how many]. */
export function missedLately(record, key) {
  const last = outcomes(record.ideas[key] ?? unknown()).slice(-STEADY - 1);
  return [last.filter((one) => one === "missed").length, last.length];
}

/** The record after a problem, by its code, said "right" or "missed" of an idea. */
export function withEvidence(record, key, code, got) {
  const idea = record.ideas[key] ?? unknown();
  const before = idea.log.find(([of]) => of === code)?.[1];
  if (before === got || before === "missed") return record;
  const log = [...idea.log.filter(([of]) => of !== code), [code, got]].slice(-MOST_LOGGED);
  return { ...record, ideas: { ...record.ideas, [key]: { log, ...comesBack(idea, record.turn, got) } } };
}

function comesBack({ stage, due }, turn, got) {
  if (got === "missed") return { stage: 0, due: turn + WAITS[0] + 1 };
  if (due === null || due > turn) return { stage, due };
  const next = stage + 1;
  return next < WAITS.length ? { stage: next, due: turn + WAITS[next] + 1 } : { stage: 0, due: null };
}

/** The ideas that are to come back at the next problem, those waited for longest first. */
export function dueIdeas(record) {
  const next = record.turn + 1;
  return Object.entries(record.ideas)
    .filter(([, idea]) => idea.due !== null && idea.due <= next)
    .sort(([, a], [, b]) => a.due - b.due)
    .map(([key]) => key);
}
