// Plays the recorded sound of a job in step with its replay: at 1 time, from parts that fit the record.
'use strict';

(() => {
  const panel = document.querySelector('[data-replay][data-sound]');
  if (!panel) return;
  const parts = JSON.parse(panel.dataset.sound), address = panel.dataset.address;
  const mostKept = 4, outOfStep = 0.15, ahead = 5000, patience = 20000, again = 5000;
  const key = panel.querySelector('[data-hear]'), word = panel.querySelector('[data-hear-word]'), says = panel.querySelector('[data-hear-says]');
  const held = new Map();
  let on = true, audio = null, source = null, playingPart = null, began = 0, pace = { at: 0, playing: false, speed: 1 };

  const covering = at => parts.find(part => at >= part.from && at < part.until);

  function soundOf(part) {
    if (held.has(part.sequence)) return held.get(part.sequence);
    const sound = { buffer: null, fault: '' };
    held.set(part.sequence, sound);
    if (held.size > mostKept) held.delete(held.keys().next().value);
    load(part, sound);
    return sound;
  }

  async function load(part, sound) {
    try {
      const answer = await fetch(`${address}/sound/${part.sequence}.wav`, { signal: AbortSignal.timeout(patience) });
      if (!answer.ok || answer.redirected) {
        sound.fault = answer.redirected ? 'Sign in again to hear it.' : await answer.text();
        return;
      }
      sound.buffer = await audio.decodeAudioData(await answer.arrayBuffer());
    } catch {
      sound.fault = 'This part of the sound could not be fetched.';
      setTimeout(() => held.delete(part.sequence), again);
    }
  }

  function stop() {
    source?.stop();
    source = playingPart = null;
  }

  function play(part, buffer) {
    const expected = (pace.at - part.from) / 1000;
    if (playingPart === part && Math.abs(audio.currentTime - began - expected) < outOfStep) return;
    stop();
    if (expected >= buffer.duration) return;
    source = audio.createBufferSource();
    source.buffer = buffer;
    source.connect(audio.destination);
    source.start(0, expected);
    [playingPart, began] = [part, audio.currentTime - expected];
    panel.dataset.heard = String(part.sequence);
  }

  function follow() {
    const part = covering(pace.at);
    const isHeard = pace.playing && pace.speed === 1 && on && part;
    if (!isHeard) {
      stop();
      says.textContent = !part ? 'There is no recorded sound of this time.' : !on ? 'Recorded sound is off.' : pace.speed === 1 ? '' : 'Recorded sound is heard at 1 time only.';
      return;
    }
    audio ??= new AudioContext();
    audio.resume();
    const sound = soundOf(part), next = covering(pace.at + ahead);
    if (next && next !== part) soundOf(next);
    if (sound.buffer) play(part, sound.buffer);
    else stop();
    says.textContent = sound.fault || (sound.buffer ? 'Recorded sound, as it fits the record.' : 'The sound is being fetched.');
  }

  function toggle() {
    on = !on;
    key.setAttribute('aria-pressed', String(on));
    word.textContent = on ? 'on' : 'off';
    follow();
  }

  key.addEventListener('click', toggle);
  document.addEventListener('keydown', event => {
    if (event.key.toLowerCase() !== 'n' || event.ctrlKey || event.altKey || event.metaKey || event.target.closest('input, textarea, select, [contenteditable]')) return;
    toggle();
    event.preventDefault();
  });
  panel.addEventListener('pace', event => {
    pace = event.detail;
    follow();
  });
  follow();
})();
