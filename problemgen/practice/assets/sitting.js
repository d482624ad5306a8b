// What a sitting is about: the aim, or the rehearsal that is going on. It outlives a reload, and ends with the tab.

const SITTING = "problemgen sitting";

/** The sitting of this tab: { aim, rehearsal }, each null where there is none. */
export function keptSitting() {
  try {
    const { aim = null, rehearsal = null } = JSON.parse(window.sessionStorage.getItem(SITTING)) ?? {};
    const isSound = rehearsal === null || (Number.isFinite(rehearsal.since) && Array.isArray(rehearsal.done));
    return { aim, rehearsal: isSound ? rehearsal : null };
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
