// When a mistake comes back.
//
// A mistake that was made is met again in the problem after the next one: a problem in which it can be made. Where it
// is not made then, it is met once more, three problems later; where it is not made there either, it was avoided twice
// running and does not come back. Made again at any time, it starts from the beginning. Growing distances between repetitions: common
// practice, no source.

const FIRST_WAIT = 1;
const SECOND_WAIT = 3;
/** So often running a mistake has to be avoided, not to come back; `record.avoided` of the messages says it. */
export const TIMES_RUNNING = 2;

/** The family of a mistake: "density-divided:acetic-anhydride" is one of "density-divided". */
export const familyOf = (mistake) => mistake.split(":")[0];

/** The mistakes after one was made: by family, { met, clean, wait }. */
export function afterMaking(mistakes, family) {
  const before = mistakes[family] ?? { met: 0 };
  return { ...mistakes, [family]: { met: before.met + 1, clean: 0, wait: FIRST_WAIT } };
}

/** The mistakes after a problem was finished: `possible` could be made in it, `made` were. */
export function afterProblem(mistakes, possible, made) {
  const result = {};
  for (const [family, state] of Object.entries(mistakes)) {
    result[family] = state;
    if (made.has(family) || avoidedEnough(state)) continue;
    const due = state.wait <= 0;
    if (due && possible.has(family)) result[family] = { ...state, clean: state.clean + 1, wait: SECOND_WAIT };
    else result[family] = { ...state, wait: Math.max(state.wait - 1, 0) };
  }
  return result;
}

export const avoidedEnough = (state) => state.clean >= TIMES_RUNNING;

/** The families that are due, those waited for longest first. */
export function dueFamilies(mistakes) {
  return Object.entries(mistakes)
    .filter(([, state]) => !avoidedEnough(state) && state.wait <= 0)
    .sort(([, a], [, b]) => a.clean - b.clean || b.met - a.met)
    .map(([family]) => family);
}
