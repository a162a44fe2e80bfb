// Plays a record: asks the server for the technician's screen as it was at a time, one picture at a time, and says the prompts again at 1 time.
'use strict';

(() => {
  const panel = document.querySelector('[data-replay]');
  if (!panel) return;
  const speeds = [1, 2, 5, 10, 30, 60];
  const patience = 5000, least = 100, mostTold = 500, tooLate = 400;
  const address = panel.dataset.address, end = Number(panel.dataset.end);
  const find = name => panel.querySelector(name);
  const stage = find('[data-stage]'), bar = find('[data-bar]'), trouble = find('[data-trouble]');
  const soundNote = find('[data-sound-note]'), saying = find('[data-saying]');
  let at = 0, since = 0, speed = 1, playing = false, wanted = null, fetching = false, told = 0;
  let aloud = find('[data-do=sound]').getAttribute('aria-pressed') === 'true', audio = null, source = null, prepared = null;

  const picture = () => find('[data-picture]').dataset;
  const now = () => playing ? Math.min(end, at + (performance.now() - since) * speed) : at;

  // Whatever plays beside the pictures goes by this.
  const report = () => panel.dispatchEvent(new CustomEvent('pace', { detail: { at: now(), playing, speed } }));

  function setPlaying(on) {
    at = now();
    since = performance.now();
    playing = on && at < end;
    const key = find('[data-do=play]');
    key.setAttribute('aria-pressed', String(playing));
    find('[data-play-word]').textContent = playing ? 'Pause' : 'Play';
    panel.dataset.playing = String(playing);
    if (!playing) hush();
    else if (aloud && speed === 1) openSound();
    report();
  }

  function setSpeed(times) {
    at = now();
    since = performance.now();
    speed = times;
    if (speed !== 1) hush();
    else if (playing && aloud) openSound();
    report();
    panel.querySelectorAll('[data-speed]').forEach(key => key.setAttribute('aria-pressed', String(Number(key.dataset.speed) === speed)));
  }

  // The latest wish counts; there is never more than one request under way. Whoever asked for a picture is not told of it.
  function show(path, isJump, isTold = true) {
    wanted = { path, isJump, isTold };
    if (!fetching) fetchWanted();
  }

  async function fetchWanted() {
    fetching = true;
    while (wanted) {
      const wish = wanted;
      wanted = null;
      try {
        const answer = await fetch(`${address}/at${wish.path}`, { signal: AbortSignal.timeout(patience) });
        if (!answer.ok || answer.redirected) throw new Error(answer.redirected ? 'sign in again' : await answer.text());
        const words = await answer.text();
        // While a finger drags the bar, pictures of the way follow it and do not move it back.
        if (wish.isJump || !wanted?.isJump) draw(words, wish.isJump && !wanted, wish.isTold);
      } catch (fault) {
        fail(fault);
      }
    }
    fetching = false;
  }

  function draw(words, isJump, isTold) {
    stage.innerHTML = words;
    stage.hidden = false;
    trouble.hidden = true;
    if (isJump) {
      at = Number(picture().at);
      since = performance.now();
      prepared = null;
      hush();
      report();
    }
    bar.value = String(isJump ? at : Math.round(now()));
    if (isTold) tell(isJump);
  }

  // A picture that does not belong to the time on the bar is worse than none.
  function fail(fault) {
    wanted = null;
    setPlaying(false);
    stage.hidden = true;
    trouble.textContent = `No picture: ${fault.message}. Press a key to try again.`;
    trouble.hidden = false;
  }

  function tell(isJump) {
    if (!isJump && performance.now() - told < mostTold) return;
    told = performance.now();
    document.dispatchEvent(new CustomEvent('moment', { detail: { sequence: Number(picture().sequence), at: Math.round(now()), from: 'replay' } }));
  }

  function seek(milliseconds) {
    at = Math.min(end, Math.max(0, milliseconds));
    since = performance.now();
    prepared = null;
    hush();
    report();
    show(`?ms=${Math.round(at)}`, true);
  }

  const go = (sequence, isTold = true) => { if (sequence) show(`/${sequence}`, true, isTold); };

  function step(direction) {
    setPlaying(false);
    go(picture()[direction]);
  }

  function jump(name) {
    go(picture()[name.replace(/-./, part => part[1].toUpperCase())]);
  }

  // Only a press lets a page make sound.
  function openSound() {
    audio ??= new AudioContext();
    audio.resume();
  }

  function hush() {
    source?.stop();
    source = null;
    saying.textContent = '';
  }

  // The record tells when a prompt ended: it begins as long before as it lasts.
  async function prepare(sequence, endsAt, words) {
    prepared = { sequence, endsAt, words, sound: null };
    const mine = prepared;
    try {
      const answer = await fetch(`${address}/said/${sequence}.wav`);
      if (!answer.ok) {
        soundNote.textContent = await answer.text();
        return;
      }
      mine.sound = await audio.decodeAudioData(await answer.arrayBuffer());
    } catch {
      soundNote.textContent = 'The prompt could not be spoken again. Its words are shown.';
    }
  }

  function speakInStep() {
    if (!playing || !aloud || speed !== 1 || !audio) return;
    const next = picture();
    if (next.prompt && next.prompt !== prepared?.sequence && !source) prepare(next.prompt, Number(next.promptAt), next.promptWords);
    if (!prepared?.sound || source) return;
    const late = now() - (prepared.endsAt - prepared.sound.duration * 1000);
    if (late < 0) return;
    const { sound, words } = prepared;
    prepared.sound = null;
    if (late / 1000 >= sound.duration + tooLate / 1000) return;
    source = audio.createBufferSource();
    source.buffer = sound;
    source.connect(audio.destination);
    source.onended = () => { source = null; saying.textContent = ''; };
    source.start(0, late > tooLate ? Math.min(late / 1000, sound.duration) : 0);
    saying.textContent = `Spoken again now: ${words}`;
    panel.dataset.said = String(Number(panel.dataset.said ?? 0) + 1);
  }

  // On a small screen the jump keys lie below the picture that they change.
  function bringIntoView() {
    if (stage.getBoundingClientRect().bottom < innerHeight / 2) panel.scrollIntoView({ block: 'start' });
  }

  function tick() {
    if (!playing) return;
    report();
    speakInStep();
    if (!fetching) show(`?ms=${Math.round(now())}`, false);
    if (now() >= end) setPlaying(false);
  }

  const acts = {
    play: () => {
      if (!playing && at >= end) seek(0);
      setPlaying(!playing);
      if (stage.hidden) show(`?ms=${Math.round(at)}`, true);
    },
    next: () => step('next'),
    before: () => step('before'),
    sound: () => {
      aloud = !aloud;
      find('[data-do=sound]').setAttribute('aria-pressed', String(aloud));
      find('[data-sound-word]').textContent = aloud ? 'on' : 'off';
      if (!aloud) hush();
      else if (playing && speed === 1) openSound();
    },
  };

  panel.addEventListener('click', event => {
    const key = event.target.closest('button');
    if (!key) return;
    if (key.dataset.do) acts[key.dataset.do]();
    else if (key.dataset.speed) setSpeed(Number(key.dataset.speed));
    else if (key.dataset.jump) {
      jump(key.dataset.jump);
      bringIntoView();
    }
  });

  bar.addEventListener('input', () => seek(Number(bar.value)));

  document.addEventListener('keydown', event => {
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey || event.target.closest('input, textarea, select, [contenteditable]')) return;
    if (event.key === ' ' && event.target.closest('button, a, summary')) return;
    const letter = panel.querySelector(`[data-letter="${CSS.escape(event.key.toUpperCase())}"]`);
    const name = { ' ': 'play', ArrowRight: 'next', ArrowLeft: 'before', o: 'sound', O: 'sound' }[event.key];
    const times = speeds[Number(event.key) - 1];
    if (name) acts[name]();
    else if (letter) jump(event.shiftKey ? letter.dataset.jump.replace('to-', 'back-') : letter.dataset.jump);
    else if (times) setSpeed(times);
    else return;
    event.preventDefault();
  });

  document.addEventListener('moment', event => {
    const { sequence, at: milliseconds, from } = event.detail ?? {};
    if (from === 'replay') return;
    if (sequence) go(sequence, false);
    else if (Number.isFinite(milliseconds)) seek(milliseconds);
  });

  // An address that chooses an entry chooses it for the picture too.
  go(Number(document.querySelector('.chosen')?.dataset.sequence), false);
  setInterval(tick, least);
  panel.dataset.ready = 'true';
})();
