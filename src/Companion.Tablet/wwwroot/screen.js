// The page's own script: starts the link and keeps trying for ever, shows the cover within two seconds when the engine's beat stops,
// and reports fingers and keys. It decides nothing: what a touch means is decided where the job is.
(() => {
  "use strict";

  const beatLimit = 1500; // ms without a beat until the cover: two seconds less what a loaded tablet needs to see and to draw
  const lookEvery = 100;
  const deadLink = 5000; // ms under the cover, while the engine does beat, until the page is loaded anew
  const slip = 24; // px that a gloved finger may slide off a button
  const hold = 1200; // ms; only for what the eye sees, the length that counts is judged by the view model
  const settle = 300; // ms that a question, and the keys where they are, must have been on this screen: a finger that is down sooner was meant for what was there
  const palm = 240; // px, 41 mm: wider than a thumb in two gloves, so a palm, a sleeve or water
  const root = document.documentElement;

  let page = null;
  let beat = null;
  let seen = -Infinity;
  let seenWall = 0;
  let upSince = 0;
  let downSince = performance.now();
  let question = null;
  let questionSince = 0;
  let asked = false;
  let movedSince = 0;
  const pressed = new Map();

  const send = (name, ...values) => page?.invokeMethodAsync(name, ...values).catch(() => {});
  const wait = ms => new Promise(done => setTimeout(done, ms));

  window.companion = { attach: reference => { page = reference; } };

  // --- the beat -------------------------------------------------------------------------------------------------------------------

  function look() {
    const now = performance.now();
    const value = document.getElementById("beat")?.dataset.boot ?? null;
    if (value !== null && value !== beat) {
      if (beat !== null) { seen = now; seenWall = Date.now(); }
      beat = value;
    }
    note();
    // The wall clock notices a sleep that the page's clock does not; a wrong step of it only shows the cover for a moment.
    const silent = Math.max(now - seen, seen === -Infinity ? Infinity : Date.now() - seenWall);
    if (silent < beatLimit) { uncover(now); } else { cover(now); }
  }

  function uncover(now) {
    if (root.dataset.link !== "up") { root.dataset.link = "up"; upSince = now; }
  }

  function cover(now) {
    if (root.dataset.link === "up") { root.dataset.link = "down"; downSince = now; release(); }
    if (now - downSince > deadLink) { downSince = now; revive(); }
  }

  // A link that looks alive but brings nothing: when the engine does beat, load anew.
  async function revive() {
    const first = await ask();
    await wait(500);
    const second = await ask();
    if (first !== null && second !== null && first !== second && root.dataset.link !== "up") { location.reload(); }
  }

  async function ask() {
    try {
      const answer = await fetch("/beat", { cache: "no-store" });
      return answer.ok ? (await answer.json()).boot : null;
    } catch { return null; }
  }

  // --- the link -------------------------------------------------------------------------------------------------------------------

  async function relink() {
    for (;;) {
      await wait(400);
      if (await ask() === null) { continue; }
      try {
        if (await Blazor.reconnect()) { return; }
      } catch { /* The circuit is gone: load anew. */ }
      location.reload();
      return;
    }
  }

  Blazor.start({
    circuit: {
      // A browser that hangs is noticed by the app as soon as its pings stay out.
      configureSignalR: link => link.withKeepAliveInterval(1000),
      reconnectionHandler: {
        onConnectionDown: () => { seen = -Infinity; cover(performance.now()); relink(); },
        onConnectionUp: () => { },
      },
    },
  }).catch(relink);
  setInterval(look, lookEvery);

  // --- fingers --------------------------------------------------------------------------------------------------------------------

  const live = () => root.dataset.link === "up";
  const shown = () => document.querySelector("[data-shown]")?.dataset.shown ?? "";
  const age = event => Math.max(0, Math.round(performance.now() - event.timeStamp));

  const isStop = element => element?.dataset.press === "third";
  const isPalm = event => event.width > palm || event.height > palm;

  // A hold that fills for one question must not be seen filling for the next.
  function note() {
    const isAsked = document.querySelector("[data-asked]") !== null;
    // The key to check in makes room for itself among the answers, and gives it back.
    if (isAsked !== asked) { asked = isAsked; movedSince = performance.now(); }
    if (shown() === question) { return; }
    question = shown();
    questionSince = performance.now();
    pressed.forEach(press => unmark(press.element));
  }

  // Stop acts whatever lies on the screen; every other button wants one finger, and a question that was there to be read.
  function down(pointer, touched, event) {
    note();
    const counts = isStop(touched) || (pressed.size === 0 && !isPalm(event) && event.timeStamp - Math.max(questionSince, movedSince) >= settle);
    const element = counts ? touched : null;
    pressed.set(pointer, { element, at: event.timeStamp });
    send("Down", pointer, element?.dataset.press ?? "", question, age(event));
    if (pressed.size > 1) { pressed.forEach(press => unmark(press.element)); return; }
    if (element) { mark(element, pointer); }
  }

  function move(event) {
    const press = pressed.get(event.pointerId);
    if (press?.element && (isPalm(event) || !within(press.element, event))) {
      unmark(press.element);
      press.element = null;
      send("Cancel", event.pointerId);
    }
  }

  function up(pointer, event, inside) {
    const press = pressed.get(pointer);
    if (!press) { return; }
    pressed.delete(pointer);
    unmark(press.element);
    if (inside) { send("Up", pointer, beat ?? "", Math.round(event.timeStamp - press.at)); } else { send("Cancel", pointer); }
  }

  function mark(element, pointer) {
    element.dataset.pressing = "";
    if (element.dataset.hold !== undefined) {
      setTimeout(() => { if (pressed.get(pointer)?.element === element) { element.dataset.full = ""; } }, hold);
    }
  }

  function unmark(element) {
    if (element) { delete element.dataset.pressing; delete element.dataset.full; }
  }

  function release() {
    pressed.forEach(press => unmark(press.element));
    pressed.clear();
    send("Reset");
  }

  function within(element, event) {
    if (!element) { return false; }
    const box = element.getBoundingClientRect();
    return event.clientX >= box.left - slip && event.clientX <= box.right + slip
      && event.clientY >= box.top - slip && event.clientY <= box.bottom + slip;
  }

  document.addEventListener("pointerdown", event => {
    if (!live() || event.button > 0) { return; }
    const element = event.target.closest?.("[data-press], [data-palette-switch]");
    if (element?.dataset.paletteSwitch !== undefined) { switchPalette(); return; }
    down(event.pointerId, element, event);
  });
  document.addEventListener("pointermove", move);
  document.addEventListener("pointerup", event => up(event.pointerId, event, within(pressed.get(event.pointerId)?.element, event)));
  document.addEventListener("pointercancel", event => up(event.pointerId, event, false));
  document.addEventListener("contextmenu", event => event.preventDefault());
  window.addEventListener("blur", release);
  document.addEventListener("visibilitychange", () => { if (document.hidden) { release(); } });

  // --- keys -----------------------------------------------------------------------------------------------------------------------

  const keyPointer = event => -1 - [...event.code].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 1000003, 7);

  function keyTarget(event) {
    const focused = document.activeElement?.closest?.("a, button");
    // A link, or a key of another script, is the browser's own affair.
    if (focused && (event.key === " " || event.key === "Enter")) { return focused.matches("[data-press], [data-palette-switch]") ? focused : null; }
    const key = event.key === "," ? "." : event.key.length === 1 ? event.key.toLowerCase() : event.key;
    return document.querySelector(`[data-key="${CSS.escape(key)}"]`);
  }

  document.addEventListener("keydown", event => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.target.matches?.("input")) { return; }
    const button = event.key === root.dataset.buttonKey;
    const element = button ? null : keyTarget(event);
    if (!button && !element) { return; }
    event.preventDefault();
    if (event.repeat || !live()) { return; }
    if (button) {
      note();
      if (event.timeStamp - questionSince < settle) { return; }
      pressed.set("button", { element: null, at: event.timeStamp });
      send("ButtonDown", question, age(event));
    } else if (element.dataset.paletteSwitch !== undefined) {
      switchPalette();
    } else {
      down(keyPointer(event), element, event);
    }
  });
  document.addEventListener("keyup", event => {
    if (event.key === root.dataset.buttonKey) {
      const press = pressed.get("button");
      pressed.delete("button");
      if (press) { send("ButtonUp", beat ?? "", Math.round(event.timeStamp - press.at)); }
      return;
    }
    const pointer = keyPointer(event);
    if (pressed.has(pointer)) { event.preventDefault(); up(pointer, event, true); }
  });

  // A click that no finger and no key brought comes from assistive technology: a tap.
  document.addEventListener("click", event => {
    if (event.detail !== 0 || pressed.size > 0 || !live()) { return; }
    const element = event.target.closest?.("[data-press]");
    if (element && event.isTrusted) { down(0, element, event); up(0, event, true); }
  });

  // --- colours --------------------------------------------------------------------------------------------------------------------

  function switchPalette() {
    const night = root.dataset.palette === "night";
    root.dataset.palette = night ? "day" : "night";
    try { localStorage.setItem("palette", root.dataset.palette); } catch { /* Not kept; nothing hangs on it. */ }
  }

  try { root.dataset.palette = localStorage.getItem("palette") ?? "day"; } catch { root.dataset.palette = "day"; }
})();
