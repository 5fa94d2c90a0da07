// The graph of the section "live": redraws the curve and its bracket, and says what is at a
// frequency that the reader points at or chooses by the arrow keys: both levels, the nearest
// mode, and a boundary whose reflection cancels the direct sound there. The maps of the floor,
// if they are open, follow to that frequency. The drawing says in data-frame where its axes are.
window.live = window.live || {};
(function (live) {
  "use strict";

  function Graph(trial, svg) {
    var f = svg.dataset.frame.split(" ").map(Number);
    this.trial = trial;
    this.svg = svg;
    this.frame = { left: f[0], top: f[1], right: f[2], bottom: f[3], from: f[4], to: f[5], low: f[6], high: f[7] };
    svg.setAttribute("role", "group");
    this.cursor = live.element(svg, "line", { "class": "cursor", y1: this.frame.top, y2: this.frame.bottom, visibility: "hidden" });
    this.pointer();
  }

  Graph.prototype.x = function (hz) {
    var f = this.frame;
    return f.left + Math.log(hz / f.from) / Math.log(f.to / f.from) * (f.right - f.left);
  };

  Graph.prototype.y = function (level) {
    var f = this.frame;
    return f.bottom - (Math.min(Math.max(level, f.low), f.high) - f.low) / (f.high - f.low) * (f.bottom - f.top);
  };

  Graph.prototype.path = function (channel) {
    var fine = channel.fine, f = this.frame, parts = [];
    for (var i = 0; i < fine.length; i += 2) {
      if (fine[i] < f.from || fine[i] > f.to * 1.005) { continue; }
      parts.push((parts.length ? "L" : "M") + this.x(Math.min(fine[i], f.to)).toFixed(1) + " " + this.y(channel.curve[i] - channel.mean).toFixed(1));
    }
    return parts.join("");
  };

  // draw redraws what changed, if the graph is on show: of the two forms the page shows one.
  Graph.prototype.draw = function () {
    if (!this.svg.getClientRects().length) { return; }
    var t = this.trial, here = t.card.channels[t.card.worst], first = t.first.channels[t.card.worst];
    this.svg.querySelector("path.curve.result").setAttribute("d", this.path(here));
    this.extent("result", here);
    if (this.drawn !== first) {
      this.svg.querySelector("path.curve.now").setAttribute("d", this.path(first));
      this.extent("now", first);
      this.drawn = first;
    }
    if (this.hz) { this.show(this.hz); }
  };

  // extent draws how far a curve reaches up and down, with its spread.
  Graph.prototype.extent = function (name, channel) {
    var bracket = this.svg.querySelector(".bracket." + name), words = this.svg.querySelectorAll("text.name." + name);
    var spread = "\u00b1" + live.number(channel.spread, 1) + " dB";
    if (words.length === 1) { words[0].textContent = words[0].textContent.replace(/\u00b1.*$/, spread); }
    if (!bracket) { return; }
    words[1].textContent = spread;
    var x = Number(bracket.getAttribute("d").split(/[ ML]+/)[3]), low = this.y(channel.dip.level), high = this.y(channel.dip.level + 2 * channel.spread);
    bracket.setAttribute("d", "M" + (x - 4) + " " + high + "L" + x + " " + high + "L" + x + " " + low + "L" + (x - 4) + " " + low);
  };

  // pointer lays a transparent rectangle over the graph that reads it.
  Graph.prototype.pointer = function () {
    var f = this.frame, self = this;
    this.area = live.element(this.svg, "rect", {
      "class": "pointer", x: f.left, y: f.top, width: f.right - f.left, height: f.bottom - f.top,
      tabindex: "0", role: "slider", "aria-label": "Frequency", "aria-valuemin": f.from, "aria-valuemax": f.to, "aria-valuenow": 50
    });
    function under(event) {
      var p = new DOMPoint(event.clientX, event.clientY).matrixTransform(self.svg.getScreenCTM().inverse());
      self.show(f.from * Math.pow(f.to / f.from, Math.max(0, Math.min(1, (p.x - f.left) / (f.right - f.left)))));
    }
    this.area.addEventListener("pointermove", under);
    this.area.addEventListener("pointerdown", under);
    this.area.addEventListener("focus", function () { if (!self.hz) { self.show(50); } });
    this.area.addEventListener("keydown", function (event) {
      var up = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 4, PageDown: -4 }[event.key];
      if (!up) { return; }
      event.preventDefault();
      self.show(Math.max(f.from, Math.min(f.to, (self.hz || 50) * Math.pow(2, up / 24))));
    });
  };

  // show marks a frequency and says what is there.
  Graph.prototype.show = function (hz) {
    this.hz = hz;
    this.cursor.setAttribute("x1", this.x(hz));
    this.cursor.setAttribute("x2", this.x(hz));
    this.cursor.setAttribute("visibility", "visible");
    var words = live.reading(this.trial, hz);
    document.getElementById("live-reading").textContent = words;
    this.area.setAttribute("aria-valuenow", hz.toFixed(1));
    this.area.setAttribute("aria-valuetext", words);
    live.tuneMaps(hz);
  };

  // levelAt returns a channel's level at a frequency re its mean, straight over lg f.
  function levelAt(channel, hz) {
    var f = channel.fine, i = 1;
    while (i < f.length - 1 && f[i] < hz) { i++; }
    var t = Math.max(0, Math.min(1, Math.log(hz / f[i - 1]) / Math.log(f[i] / f[i - 1])));
    return channel.curve[i - 1] + t * (channel.curve[i] - channel.curve[i - 1]) - channel.mean;
  }

  live.levelAt = levelAt;

  // live.reading says what is at a frequency.
  live.reading = function (trial, hz) {
    var worst = trial.card.worst;
    function signed(v) { return (v > 0.05 ? "+" : "") + live.number(v, 1) + " dB"; }
    var words = live.number(hz, 0) + " Hz: here " + signed(levelAt(trial.card.channels[worst], hz)) + ", " + trial.data.layouts[0].name + " " +
      signed(levelAt(trial.first.channels[worst], hz)) + ".";
    var mode = live.modeAt(!trial.parts.length && trial.data.modes || [], hz), walls = live.cancelling(trial.data, trial.shown, hz);
    if (mode) { words += " On the room mode " + mode.name + " at " + live.number(mode.f, 1) + " Hz."; }
    if (walls.length) { words += " The reflection off " + walls.join(" and ") + " arrives half a wave late, which weakens the sound."; }
    return words;
  };

  // live.modeAt returns the mode whose bandwidth holds a frequency and that is nearest, or null.
  live.modeAt = function (modes, hz) {
    var best = null;
    modes.forEach(function (m) {
      var off = Math.abs(m.f - hz);
      if (off <= m.width / 2 && (!best || off < Math.abs(best.f - hz))) { best = m; }
    });
    return best;
  };

  // live.cancelling names the boundaries whose first reflection arrives half a wave late at a
  // frequency, within a sixth of an octave, with the speaker it is of.
  live.cancelling = function (data, layout, hz) {
    var found = [];
    (data.walls || []).forEach(function (w) {
      var of = ["left", "right"].filter(function (mark) {
        var at = layout[mark], seat = layout.seat, image = { x: at.x, y: at.y, z: at.z };
        image[w.axis] = 2 * w.at - at[w.axis];
        var detour = Math.hypot(image.x - seat.x, image.y - seat.y, image.z - seat.z) - Math.hypot(at.x - seat.x, at.y - seat.y, at.z - seat.z);
        return detour > 0 && Math.abs(Math.log2(hz / (data.field.speed / (2 * detour)))) < 1 / 12;
      });
      if (of.length) { found.push("the " + w.name + (of.length === 1 ? " (" + of[0] + " speaker)" : "")); }
    });
    return found;
  };

  // live.tuneMaps turns the maps of the floor that are on show to the nearest of their
  // frequencies.
  live.tuneMaps = function (hz) {
    document.querySelectorAll("figure.floor .tuner").forEach(function (tuner) {
      var figure = tuner.closest("figure"), slider = tuner.querySelector("input[type=range]");
      if (!slider.getClientRects().length) { return; }
      tuner.tones = tuner.tones || JSON.parse(figure.querySelector(".floor-data").textContent).tones.map(parseFloat);
      var tones = tuner.tones, best = 0;
      tones.forEach(function (f, i) { if (Math.abs(Math.log(f / hz)) < Math.abs(Math.log(tones[best] / hz))) { best = i; } });
      if (Number(slider.value) === best) { return; }
      slider.value = String(best);
      slider.dispatchEvent(new Event("input"));
    });
  };

  live.Graph = Graph;
})(window.live);
