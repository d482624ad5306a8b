// What a sitting is about: the aim, or the rehearsal that is going on. It outlives a reload, and ends with the tab.

const SITTING = "problemgen sitting";

const areNumbers = (...values) => values.every((one) => Number.isFinite(one));
const isAim = (one) => areNumbers(one?.since, one?.solved, one?.tried, one?.problems ?? one?.minutes);
const isRehearsal = (one) =>
  areNumbers(one?.since) && Array.isArray(one.done) && one.done.every((name) => typeof name === "string");

/** The sitting of this tab: { aim, rehearsal }, each null where there is none. */
export function keptSitting() {
  try {
    const { aim, rehearsal } = JSON.parse(window.sessionStorage.getItem(SITTING)) ?? {};
    return { aim: isAim(aim) ? aim : null, rehearsal: isRehearsal(rehearsal) ? rehearsal : null };
  } catch {
    return { aim: null, rehearsal: null };
  }
}

export function keepSitting({ aim, rehearsal }) {
  try {
    window.sessionStorage.setItem(SITTING, JSON.stringify({ aim, rehearsal }));
  } catch {
    // Where nothing is kept, a sitting ends with a reload; the page has said so.
  }
}
