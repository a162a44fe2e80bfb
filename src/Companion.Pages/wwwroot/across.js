// How far the reading of records is, while it goes on. Without this file the page says how far it was when it was drawn.
"use strict";
const bar = document.querySelector("#reading progress");

async function follow() {
  try {
    const { read, all, unreadable } = await (await fetch("/jobs/across/read")).json();
    bar.max = all;
    bar.value = read;
    document.getElementById("reading-words").textContent = `${read} of ${all} records are read: count again to have them in the figures.`;
    if (read + unreadable >= all) {
      document.getElementById("reading-done").textContent = unreadable === 0 ? "All are read." : `${unreadable} could not be read.`;
      return;
    }
  } catch {
    // No answer: the next one may come.
  }

  setTimeout(follow, 2000);
}

follow();
