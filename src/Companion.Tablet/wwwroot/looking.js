// On the pages that look back: the colours of the tablet, and the way back to the job's own screen as soon as one is open.
"use strict";
(() => {
  const every = 1000;
  try { document.documentElement.dataset.palette = localStorage.getItem("palette") ?? "day"; } catch { /* The usual colours. */ }
  setInterval(async () => {
    const answer = await fetch("/looking", { cache: "no-store" }).catch(() => null);
    if (answer?.status === 409) location.replace("/");
  }, every);
})();
