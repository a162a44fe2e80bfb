// Tells the app where the tablet is, once the person before it has said so and the browser allows it. It never asks by itself: the browser's
// question would lie over a job. Only the key on the start screen asks.
(() => {
  "use strict";

  const again = 60000; // ms: a tablet that stands still brings no new finding unless it is looked for anew
  const patience = 45000; // ms for one finding
  const fresh = 30000; // ms: a finding of the browser that is younger will do
  const root = document.documentElement;
  let watching = null;

  const isStopped = () => { try { return localStorage.getItem("position") === "off"; } catch { return false; } };
  const keep = choice => { try { localStorage.setItem("position", choice); } catch { /* Not kept: the browser's own permission still counts. */ } };
  const show = state => { root.dataset.position = state; };
  const tell = (method, body) => fetch("/position", { method, headers: { "Content-Type": "application/json" }, body }).catch(() => {});

  function found({ coords, timestamp }) {
    show("on");
    const { latitude, longitude, accuracy } = coords;
    tell("POST", JSON.stringify({ latitude, longitude, accuracy, age: Math.max(0, Date.now() - timestamp) }));
  }

  function missed(error) {
    if (error.code === error.PERMISSION_DENIED) { look(); } else { show("lost"); }
  }

  function watch() {
    if (watching === null) { show("on"); } else { navigator.geolocation.clearWatch(watching); }
    watching = navigator.geolocation.watchPosition(found, missed, { enableHighAccuracy: true, maximumAge: fresh, timeout: patience });
  }

  function unwatch(state) {
    if (watching !== null) {
      navigator.geolocation.clearWatch(watching);
      watching = null;
      tell("DELETE");
    }
    show(state);
  }

  async function look() {
    const permission = await navigator.permissions.query({ name: "geolocation" });
    permission.onchange = look;
    if (permission.state === "granted" && !isStopped()) { watch(); } else { unwatch(permission.state === "denied" ? "denied" : "off"); }
  }

  document.addEventListener("click", event => {
    const key = event.target.closest?.("button[data-position]");
    if (key?.dataset.position === "stop") { keep("off"); look(); }
    if (key?.dataset.position === "share") {
      keep("on");
      navigator.geolocation.getCurrentPosition(position => { found(position); look(); }, look, { enableHighAccuracy: true, maximumAge: fresh, timeout: patience });
    }
  });

  look();
  setInterval(look, again);
})();
