// Plays a scale of bass notes as loud against each other as they are predicted at the seat. Nothing
// sounds until the reader asks, and then quietly.
//
//   live.notes(goal)       the semitones, Hz, from the goal's lowest frequency to two octaves above or to its end
//   new live.Scale(trial)  listens to the buttons
//   scale.tones            what sounds: {hz, gain, at}, at in s
window.live = window.live || {};
(function (live) {
  "use strict";
  var pitch = 440, length = 0.4, fade = 0.03; // Hz, s, s
  var full = 0.25, most = 12;                 // gain of the mean at full volume; dB above the mean, limited

  live.notes = function (goal) {
    var list = [], end = Math.min(goal.to, 4 * goal.from) * (1 + 1e-9);
    for (var n = Math.ceil(12 * Math.log2(goal.from / pitch) - 1e-9); pitch * Math.pow(2, n / 12) <= end; n++) {
      list.push(pitch * Math.pow(2, n / 12));
    }
    return list;
  };

  function Scale(trial) {
    this.trial = trial;
    this.tones = [];
    this.box = document.getElementById("live-scale");
    var self = this;
    this.box.querySelectorAll("button").forEach(function (button) {
      button.addEventListener("click", function () {
        self.stop();
        if (button.value) { self.play(button.value === "first" ? trial.first : trial.card); }
      });
    });
  }

  // play sounds the scale by a card's curve of both speakers together.
  Scale.prototype.play = function (card) {
    var both = card.channels[2], volume = full * Number(this.box.querySelector("input").value) / 100, self = this;
    this.tones = live.notes(this.trial.data.goal).map(function (hz, i) {
      return { hz: hz, at: i * length, gain: volume * Math.pow(10, Math.min(most, live.levelAt(both, hz)) / 20) };
    });
    this.context = new AudioContext();
    var tone = this.context.createOscillator(), gain = this.context.createGain(), now = this.context.currentTime + 0.1;
    gain.gain.setValueAtTime(0, 0);
    this.tones.forEach(function (t) {
      tone.frequency.setValueAtTime(t.hz, now + t.at);
      gain.gain.setValueAtTime(0, now + t.at);
      gain.gain.linearRampToValueAtTime(t.gain, now + t.at + fade);
      gain.gain.setValueAtTime(t.gain, now + t.at + length - fade);
      gain.gain.linearRampToValueAtTime(0, now + t.at + length);
    });
    tone.connect(gain).connect(this.context.destination);
    tone.onended = function () { self.stop(); };
    tone.start();
    tone.stop(now + this.tones.length * length);
  };

  Scale.prototype.stop = function () {
    if (this.context) { this.context.close(); }
    this.context = null;
    this.tones = [];
  };

  live.Scale = Scale;
})(window.live);
