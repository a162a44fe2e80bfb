// The board follows the watch room's feed and calls the person before it: for alerts that nobody has taken, for trouble of the
// watch room that nobody has noted, and when the feed itself stops.
'use strict';

if (typeof document === 'undefined') {
  // As a worker: browsers slow the timers of a page that is not in front, not those of its workers.
  setInterval(() => postMessage(0), 500);
} else {
  const silentAfter = 6000;

  // Every beat of every tablet is a change: without a pause a few pages behind one address would ask more often than it may.
  const leastPause = 1000;

  // A card is not replaced under a finger; but what lies on the screen, or never lets go, must not keep an alert from being shown.
  const longestPress = 2000;
  const root = document.documentElement;
  const noWord = document.getElementById('noword');
  const sound = document.getElementById('sound');
  let feed, audio, lastWord = performance.now(), boardOldSince = null, asked = -leastPause, fetching = false, wanted = null, pressedAt = null, ticks = 0, ahead = 0;

  const board = () => document.getElementById('board');
  const watchRoomNow = () => Date.now() + ahead;
  const pressed = () => pressedAt !== null && performance.now() - pressedAt < longestPress;
  const noteTime = now => { ahead = Number(now) - Date.now(); };

  function span(milliseconds) {
    const seconds = Math.floor(Math.abs(milliseconds) / 1000);
    if (seconds < 60) return `${seconds} s`;
    return seconds < 3600 ? `${Math.floor(seconds / 60)} min ${seconds % 60} s` : `${Math.floor(seconds / 3600)} h ${Math.floor(seconds % 3600 / 60)} min`;
  }

  function countOn() {
    for (const time of document.querySelectorAll('time[data-since]')) time.textContent = `${span(watchRoomNow() - time.dataset.since)} ago`;
    for (const time of document.querySelectorAll('time[data-old]')) {
      time.closest('.where').classList.toggle('where-old', watchRoomNow() - time.dataset.since > Number(time.dataset.old));
    }
    for (const time of document.querySelectorAll('time[data-until]')) {
      const left = time.dataset.until - watchRoomNow();
      time.textContent = left > 0 ? `in ${span(left)}` : `${span(left)} ago`;
    }
  }

  // What a card says, without what is different every time it is drawn.
  function said(card) {
    const copy = card.cloneNode(true);
    copy.querySelectorAll('input[name="__RequestVerificationToken"]').forEach(input => input.remove());
    copy.querySelectorAll('time').forEach(time => { time.textContent = ''; });
    copy.querySelectorAll('details').forEach(details => details.removeAttribute('open'));
    copy.querySelectorAll('.form-problem').forEach(problem => { problem.textContent = ''; });
    return copy.outerHTML;
  }

  // Cards that say the same stay as they are, with what is being typed into them.
  function show(next) {
    const before = new Map([...board().querySelectorAll('[data-key]')].map(card => [card.dataset.key, card]));
    const focused = document.activeElement;
    const inBoard = board().contains(focused);
    const focusedKey = inBoard ? focused.closest('[data-key]')?.dataset.key : null;
    for (const card of next.querySelectorAll('[data-key]')) {
      const old = before.get(card.dataset.key);
      if (!old) continue;
      if (said(old) === said(card)) { card.replaceWith(old); continue; }
      for (const input of card.querySelectorAll('input:not([type="hidden"])')) input.value = old.querySelector(`input[name="${input.name}"]`)?.value ?? '';
      for (const details of card.querySelectorAll('details')) details.open = old.querySelector('details')?.open ?? false;
    }
    board().replaceWith(next);
    if (!inBoard) return;
    const card = focusedKey && [...next.querySelectorAll('[data-key]')].find(one => one.dataset.key === focusedKey);
    const again = next.contains(focused) ? focused : focused.name && card?.querySelector(`[name="${focused.name}"]`);
    again?.focus({ preventScroll: true });
  }

  async function refresh() {
    if (fetching || pressed() || wanted === null || performance.now() - asked < leastPause) return;
    fetching = true;
    asked = performance.now();
    try {
      const answer = await fetch('/board', { headers: { Accept: 'text/plain' }, signal: AbortSignal.timeout(5000) });
      if (!answer.ok) throw new Error(String(answer.status));
      const next = new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById('board');
      if (pressed()) return;
      show(next);
      boardOldSince = null;
      noteTime(next.dataset.now);
      look();
    } catch {
      boardOldSince ??= performance.now();
    } finally {
      fetching = false;
      if (wanted === board().dataset.version) wanted = null;
    }
  }

  function hear(event) {
    const word = JSON.parse(event.data);
    lastWord = performance.now();
    noteTime(word.now);
    if (word.version === board().dataset.version) return;
    boardOldSince ??= performance.now();
    wanted = word.version;
    refresh();
  }

  function listen() {
    feed?.close();
    feed = new EventSource('/feed');
    feed.addEventListener('alive', hear);
    feed.addEventListener('change', hear);
  }

  // The alarm, and what shows it.
  function look() {
    const now = performance.now();
    const silent = now - lastWord > silentAfter || (boardOldSince !== null && now - boardOldSince > silentAfter);
    const alerts = board().querySelectorAll('[data-sounds]:not([data-sounds="false"])').length;
    const trouble = board().querySelector('[data-trouble]:not([data-trouble="false"])') !== null;
    root.dataset.alarm = silent ? 'noword' : alerts > 0 ? 'alert' : trouble ? 'trouble' : 'none';
    if (noWord.hidden === silent) noWord.hidden = !silent;
    document.title = silent ? 'NO WORD: Watch board' : alerts > 0 ? `${alerts} ALERT: Watch board` : trouble ? 'TROUBLE: Watch board' : 'Watch board';
    const on = audio?.state === 'running';
    if (sound.dataset.on !== String(on)) {
      sound.dataset.on = String(on);
      document.getElementById('sound-words').textContent = on ? 'Sound is on.' : 'Sound is off: this page cannot call you.';
      document.getElementById('sound-key').textContent = on ? 'Try the sound' : 'Sound on';
    }
  }

  function call(pitches) {
    if (audio?.state !== 'running') return;
    pitches.forEach((pitch, index) => {
      const tone = audio.createOscillator();
      const level = audio.createGain();
      tone.type = 'square';
      tone.frequency.value = pitch;
      level.gain.value = 0.2;
      tone.connect(level).connect(audio.destination);
      tone.start(audio.currentTime + index * 0.22);
      tone.stop(audio.currentTime + index * 0.22 + 0.18);
    });
  }

  function tick() {
    ticks++;
    look();
    countOn();
    refresh();
    if (feed.readyState === EventSource.CLOSED && ticks % 4 === 0) listen();
    if (ticks % 3 === 0 && root.dataset.alarm === 'alert') call([880, 660, 880]);
    if (ticks % 3 === 0 && root.dataset.alarm === 'noword') call([330, 330]);

    // Its own sound, and only while nobody at a vehicle needs the alarm.
    if (ticks % 3 === 0 && root.dataset.alarm === 'trouble') call([520, 390]);
  }

  document.getElementById('sound-key').addEventListener('click', async () => {
    audio ??= new AudioContext();
    await audio.resume();
    look();
    call([660]);
  });

  // Sent without leaving the page, so that its sound goes on.
  document.addEventListener('submit', async event => {
    const form = event.target;
    if (!form.classList.contains('take')) return;
    event.preventDefault();
    const problem = form.querySelector('.form-problem');
    problem.textContent = '';
    try {
      const answer = await fetch(form.action, { method: 'POST', body: new URLSearchParams(new FormData(form)), headers: { Accept: 'text/plain' } });
      if (!answer.ok) problem.textContent = `Not done: ${await answer.text()}`;
    } catch {
      problem.textContent = 'Not done: the watch room was not reached. Try again.';
    }
    wanted = 'now';
    asked = -leastPause;
    refresh();
  });

  addEventListener('pointerdown', () => { pressedAt = performance.now(); });
  for (const end of ['pointerup', 'pointercancel', 'blur']) addEventListener(end, () => { setTimeout(() => { pressedAt = null; }, 50); });
  noteTime(board().dataset.now);
  listen();
  new Worker('/board.js').onmessage = tick;
  look();
}
