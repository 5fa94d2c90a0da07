// Plays the test signal, records it without the browser's own processing, and sends the recording to
// the program. No sound is played before the reader has confirmed the cautions, and the signal only
// after a level check.
(function () {
  "use strict";
  const $ = (id) => document.getElementById(id);
  const page = document.body.dataset, form = $("what");
  const listening = 2; // s of silence in which the check hears the room's noise
  const rising = 4; // s in which the check's tone rises
  const quietest = -40, loudest = -3, above = 20; // dB re full scale; dB of tone above noise
  let session = null; // what sounds or records now
  let fit = false; // the last check was content

  const decibels = (x) => 20 * Math.log10(Math.max(x, 1e-6));
  const wait = (s) => new Promise((done) => setTimeout(done, 1000 * s));

  function say(text, fault) {
    $("doing").textContent = text;
    $("doing").classList.toggle("fault", Boolean(fault));
    document.body.dataset.said = text;
  }

  function buttons() {
    const free = session === null;
    $("check").disabled = !(free && $("careful").checked);
    $("measure").disabled = !(free && fit && $("careful").checked);
    $("stop").disabled = free || session.stopped;
  }

  // microphone opens the microphone with all processing off; a browser that keeps some is refused.
  async function microphone() {
    const off = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
    const wanted = Object.assign({ channelCount: { ideal: 1 } }, off);
    if (form.device.value) { wanted.deviceId = { exact: form.device.value }; }
    const stream = await navigator.mediaDevices.getUserMedia({ audio: wanted });
    const set = stream.getAudioTracks()[0].getSettings();
    const kept = Object.keys(off).filter((name) => set[name] === true);
    if (kept.length > 0) {
      stream.getTracks().forEach((t) => t.stop());
      throw new Error("This browser keeps " + kept.join(" and ") + " on, which falsifies bass. Use another browser or microphone.");
    }
    return stream;
  }

  // open begins a session, which lasts until silence.
  async function open() {
    const s = { blocks: [], peak: 0, stopped: false, context: new AudioContext({ latencyHint: "playback" }) };
    session = s;
    buttons();
    s.stream = await microphone();
    if (s.stopped) { silence(s); throw new Error("Stopped."); }
    s.stream.getAudioTracks()[0].addEventListener("ended", () => { s.stopped = true; });
    await s.context.resume();
    await s.context.audioWorklet.addModule("capture.js");
    const node = new AudioWorkletNode(s.context, "capture", { numberOfOutputs: 0 });
    node.port.onmessage = (e) => {
      s.blocks.push(e.data);
      for (const v of e.data) { s.peak = Math.max(s.peak, Math.abs(v)); }
      $("level").value = decibels(e.data.reduce((m, v) => Math.max(m, Math.abs(v)), 0));
    };
    s.context.createMediaStreamSource(s.stream).connect(node);
    await devices();
    return s;
  }

  // silence ends all sound of a session and lets go of the microphone.
  function silence(s) {
    s.stopped = true;
    if (s.stream) { s.stream.getTracks().forEach((t) => t.stop()); }
    if (s.context.state !== "closed") { s.context.close(); }
    $("share").hidden = true;
    $("level").value = -90;
    buttons();
  }

  // devices offers the microphones, whose names a browser tells once it has opened one.
  async function devices() {
    const chosen = form.device.value, all = await navigator.mediaDevices.enumerateDevices();
    while (form.device.options.length > 1) { form.device.remove(1); }
    all.filter((d) => d.kind === "audioinput" && d.deviceId !== "default").forEach((d) => form.device.add(new Option(d.label, d.deviceId)));
    form.device.value = chosen;
  }

  // peak returns the loudest moment of a while, dB re full scale; after says what follows.
  async function peak(s, seconds) {
    s.peak = 0;
    for (const end = s.context.currentTime + seconds; s.context.currentTime < end;) {
      await wait(0.05);
      if (s.stopped) { throw new Error("Stopped."); }
    }
    return decibels(s.peak);
  }

  // tone plays a tone that rises in pitch and, from 36 dB below, to the test signal's level.
  function tone(s, channel) {
    const now = s.context.currentTime, gain = Number(page.gain);
    const source = s.context.createOscillator(), volume = s.context.createGain();
    source.frequency.setValueAtTime(40, now);
    source.frequency.exponentialRampToValueAtTime(200, now + rising);
    volume.gain.setValueAtTime(gain / 64, now);
    volume.gain.exponentialRampToValueAtTime(gain, now + 0.9 * rising);
    volume.gain.linearRampToValueAtTime(0, now + rising);
    const sides = s.context.createChannelMerger(2);
    source.connect(volume);
    if (channel !== "right") { volume.connect(sides, 0, 0); }
    if (channel !== "left") { volume.connect(sides, 0, 1); }
    sides.connect(s.context.destination);
    source.start(now);
    source.stop(now + rising);
  }

  async function check() {
    fit = false;
    const s = await open();
    say("Listening to the room. Keep quiet.");
    await peak(s, 0.3); // what a microphone does when it opens
    const noise = await peak(s, listening);
    let faintest = Infinity, strongest = -Infinity;
    for (const channel of page.check.split(" ")) {
      say("Playing: " + channel + ".");
      tone(s, channel);
      const level = await peak(s, rising + 0.5);
      faintest = Math.min(faintest, level);
      strongest = Math.max(strongest, level);
    }
    const found = " The tone reaches " + faintest.toFixed(0) + " dB re full scale, the room's noise " + noise.toFixed(0) + " dB.";
    if (strongest > loudest) { return say("Too loud for the microphone: lower its level or the volume, and check again." + found, true); }
    if (faintest < quietest) { return say("Too quiet: raise the volume a little or the microphone's level, and check again." + found, true); }
    if (faintest < noise + above) { return say("Too close to the noise: raise the volume a little, or find what is humming, and check again." + found, true); }
    fit = true;
    say("The level is right." + found + " Now measure, and change nothing.");
  }

  async function measure() {
    const s = await open();
    say("Recording. Keep quiet.");
    const file = await (await fetch("sweep.wav")).arrayBuffer();
    const source = s.context.createBufferSource();
    source.buffer = await s.context.decodeAudioData(file);
    source.connect(s.context.destination);
    s.blocks.length = 0;
    const length = source.buffer.duration + 1, begin = s.context.currentTime; // 1 s for what is late
    source.start();
    $("share").hidden = false;
    for (let t = 0; t < length; t = s.context.currentTime - begin) {
      $("share").value = t / length;
      await wait(0.1);
      if (s.stopped) { throw new Error("Stopped. Nothing was measured."); }
    }
    const recording = wav(s.blocks, s.context.sampleRate);
    silence(s);
    await send(recording);
  }

  // wav returns blocks of samples as a WAV file of one channel, floating point of 32 bits.
  function wav(blocks, rate) {
    const n = blocks.reduce((sum, b) => sum + b.length, 0);
    const head = new DataView(new ArrayBuffer(44));
    const word = (at, text) => { for (let i = 0; i < 4; i++) { head.setUint8(at + i, text.charCodeAt(i)); } };
    word(0, "RIFF"); head.setUint32(4, 36 + 4 * n, true); word(8, "WAVE");
    word(12, "fmt "); head.setUint32(16, 16, true);
    head.setUint16(20, 3, true); head.setUint16(22, 1, true);
    head.setUint32(24, rate, true); head.setUint32(28, 4 * rate, true);
    head.setUint16(32, 4, true); head.setUint16(34, 32, true);
    word(36, "data"); head.setUint32(40, 4 * n, true);
    return new Blob([head, ...blocks], { type: "audio/wav" });
  }

  async function send(recording) {
    say("Analysing the recording.");
    const query = new URLSearchParams({ seat: form.seat.value });
    form.querySelectorAll("[name=state]:checked").forEach((box) => query.append("state", box.value));
    const answer = await fetch("recording?" + query, { method: "POST", headers: { "Content-Type": "audio/wav" }, body: recording });
    const text = await answer.text();
    if (!answer.ok) { throw new Error("Not measured: " + text.trim()); }
    $("result").textContent = text;
    $("result").hidden = false;
    say("Measured and saved. The page is being computed again with what was measured.");
  }

  // attempt runs a step that the reader may stop, and says what went wrong.
  async function attempt(step) {
    $("result").hidden = true;
    try {
      await step();
    } catch (e) {
      say(e.name === "NotAllowedError" ? "The browser may not use the microphone: allow it, then try again." :
        e.name === "NotFoundError" ? "The browser finds no microphone: connect one, then try again." : e.message, true);
    }
    silence(session);
    session = null;
    buttons();
  }

  $("careful").addEventListener("change", buttons);
  $("check").addEventListener("click", () => attempt(check));
  $("measure").addEventListener("click", () => attempt(measure));
  $("stop").addEventListener("click", () => silence(session));
  form.device.addEventListener("change", () => { fit = false; buttons(); });
  document.addEventListener("keydown", (e) => { if (e.key === "Escape" && session) { silence(session); } });
  window.addEventListener("pagehide", () => { if (session) { silence(session); } });
  if (!navigator.mediaDevices || !window.AudioWorkletNode) {
    $("careful").disabled = true;
    say("This browser cannot record here. Use evenbass sweep and evenbass measure instead.", true);
  }
  buttons();
})();
