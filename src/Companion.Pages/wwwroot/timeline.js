// Moves the timeline by keyboard and touch. The server draws every window; without this file its keys are links.
"use strict";
(() => {
  const pinchLeast = 0.05;
  let asked = 0;
  const line = () => document.getElementById("line");
  const box = () => line().querySelector(".line-box");
  if (!line()) return;

  // Whoever uses the timeline moves the replay with it; what the replay asks for is not told back to it, or the two would never rest.
  async function show(href, isChosenHere) {
    const mine = ++asked;
    const [path, query] = href.split("?");
    const answer = await fetch(`${path}/line?${query}`).catch(() => null);
    if (mine !== asked) return;
    if (!answer || !answer.ok || answer.redirected) { location.assign(href); return; }
    const part = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("line");
    if (mine !== asked) return;
    const hadFocus = line().contains(document.activeElement);
    const before = line().querySelector(".chosen")?.dataset.sequence, seen = box().scrollLeft;
    line().replaceWith(part);
    box().scrollLeft = seen;
    history.replaceState(null, "", href);
    const chosen = part.querySelector(".chosen");
    bringIntoView(part.querySelector(".mark-chosen"));
    if (isChosenHere || hadFocus) box().focus({ preventScroll: true });
    if (isChosenHere) {
      // What is put into the page with its words is not read out: words that change in a place that stays are.
      document.getElementById("line-says").textContent = (chosen?.dataset.sequence === before ? part.querySelector(".line-window") : chosen).textContent;
      if (chosen) tell(chosen);
    }
  }

  // On a small screen the picture is wider than its box.
  function bringIntoView(mark) {
    if (!mark) return;
    const at = mark.getBoundingClientRect(), frame = box().getBoundingClientRect();
    if (at.left < frame.left || at.right > frame.right) box().scrollLeft += at.left - frame.left - frame.width / 2;
  }

  function tell(chosen) {
    document.dispatchEvent(new CustomEvent("moment", {
      detail: { sequence: Number(chosen.dataset.sequence), at: Number(chosen.dataset.at), from: "timeline" },
    }));
  }

  function windowOf() {
    const { from, to, length } = line().dataset;
    return { from: Number(from), to: Number(to), length: Number(length) };
  }

  function move(from, to) {
    const { length } = windowOf();
    const width = Math.min(Math.max(100, to - from), Math.max(100, length + 1));
    const start = Math.round(Math.min(Math.max(0, from), Math.max(0, length + 1 - width)));
    show(`${line().dataset.address}?from=${start}&to=${Math.round(start + width)}`, true);
  }

  document.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    const link = event.target.closest("a[data-line]");
    const href = link?.getAttribute("href") ?? event.target.closest("[data-href]")?.dataset.href;
    if (!href) return;
    event.preventDefault();
    show(href, true);
  });

  const actions = { "+": "in", "=": "in", "-": "out", ArrowLeft: "left", ArrowRight: "right" };
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !event.target.closest("#line")) return;
    if (event.key === "Home" || event.key === "End") {
      event.preventDefault();
      const { from, to, length } = windowOf();
      if (event.key === "Home") move(0, to - from); else move(length - (to - from), length);
      return;
    }
    const action = actions[event.key] ?? (/^[a-z]$/i.test(event.key) ? event.key.toUpperCase() : null);
    const key = action && line().querySelector(`[data-do="${action}"]`);
    if (!key) return;
    event.preventDefault();
    show(key.getAttribute("href"), true);
  });

  // A finger drags; two pinch. What they did is asked for when they are lifted. A picture wider than its box is drawn past first.
  const fingers = new Map();
  let began = null, drawn = false;
  const spread = () => { const at = [...fingers.values()]; return at.length === 2 ? Math.abs(at[0] - at[1]) : 0; };
  document.addEventListener("pointerdown", (event) => {
    if (!event.target.closest(".line-picture")) return;
    fingers.set(event.pointerId, event.clientX);
    began = { x: event.clientX, spread: spread() };
    drawn = false;
  });
  document.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    if (fingers.size === 1) {
      const before = box().scrollLeft;
      box().scrollLeft += fingers.get(event.pointerId) - event.clientX;
      drawn ||= box().scrollLeft !== before;
    }
    fingers.set(event.pointerId, event.clientX);
  });
  const lift = (event) => {
    if (!fingers.has(event.pointerId)) return;
    const { from, to } = windowOf();
    const picture = line().querySelector(".line-picture").getBoundingClientRect();
    if (began?.spread > 0) {
      const grown = spread() / began.spread;
      if (Math.abs(grown - 1) > pinchLeast && grown > 0) {
        const middle = (from + to) / 2, half = (to - from) / grown / 2;
        move(middle - half, middle + half);
      }
    } else if (began && !drawn && Math.abs(event.clientX - began.x) > 12) {
      const by = (began.x - event.clientX) / picture.width * (to - from);
      move(from + by, to + by);
    }
    fingers.clear();
    began = null;
  };
  document.addEventListener("pointerup", lift);
  document.addEventListener("pointercancel", () => { fingers.clear(); began = null; });

  document.addEventListener("moment", (event) => {
    if (event.detail.from === "timeline") return;
    const { from, to } = windowOf();
    const half = (to - from) / 2, at = event.detail.at;
    const [start, end] = at >= from && at <= to ? [from, to] : [Math.max(0, at - half), at + half];
    show(`${line().dataset.address}?from=${Math.round(start)}&to=${Math.round(end)}&at=${event.detail.sequence}`, false);
  });
})();
