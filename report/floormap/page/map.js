
// Makes the maps of the floor interactive: a pointer or the arrow keys choose a cell, whose
// place and decibels appear below the map; a slider draws another frequency.
(function () {
  "use strict";

  function number(v, places) { return v.toFixed(places).replace("-", "\u2212"); }

  function signed(v) {
    var text = number(Math.abs(v), 0);
    return text === "0" ? text : (v > 0 ? "+" : "\u2212") + text;
  }

  // unpacked returns bytes of base64: a byte per place of each frequency.
  function unpacked(text) {
    var raw = atob(text), bytes = new Uint8Array(raw.length);
    for (var i = 0; i < raw.length; i++) { bytes[i] = raw.charCodeAt(i); }
    return bytes;
  }

  function Floor(figure) {
    this.figure = figure;
    this.data = JSON.parse(figure.querySelector(".floor-data").textContent);
    this.svg = figure.querySelector("svg.drawing");
    this.reading = figure.querySelector(".reading");
    this.levels = (this.data.levels || []).map(unpacked);
    this.channel = 0;
    this.tone = 0;
    this.at = -1;
    this.listen();
    if (figure.querySelector(".tuner")) { this.tune(); }
  }

  // level returns the decibels at a place, or null where there is no air.
  Floor.prototype.level = function (n) {
    var t = this.data.tiles;
    var b = this.levels[this.channel][this.tone * t.rows * t.columns + n];
    return b === 0 ? null : (b - 1) / 4 - 40;
  };

  // words says what is at a place.
  Floor.prototype.words = function (n) {
    var d = this.data, t = d.tiles;
    var place = d.x[Math.floor(n / t.columns)] + " from the front wall, " + d.y[n % t.columns] + " from the left wall: ";
    if (!d.spread) {
      var l = this.level(n);
      return place + (l === null ? "no air." : signed(l) + " dB at " + d.tones[this.tone] + ", " + d.channels[this.channel] +
        ". The mean over the floor is " + d.means[this.channel][this.tone] + ".");
    }
    if (d.spread[n] < 0) { return place + "no air."; }
    var more = d.spread[n] - d.best;
    var text = place + "\u00b1" + number(d.spread[n] / 10, 1) + " dB, " +
      (more === 0 ? "the same as" : number(Math.abs(more) / 10, 1) + " dB " + (more > 0 ? "more" : "less") + " than") + " " +
      (this.figure.id === "floor-chair" ? "the allowed place of least spread." : "exactly in place.");
    return d.rule[n] ? text + " Not allowed: " + d.rules[d.rule[n] - 1] + "." : text;
  };

  // show marks a cell and says what is there.
  Floor.prototype.show = function (n) {
    var t = this.data.tiles;
    this.at = n;
    if (!this.cursor) {
      this.cursor = document.createElementNS(this.svg.namespaceURI, "rect");
      this.cursor.setAttribute("class", "cursor");
      this.svg.appendChild(this.cursor);
    }
    this.cursor.setAttribute("x", t.x + (n % t.columns) * t.w);
    this.cursor.setAttribute("y", t.y + Math.floor(n / t.columns) * t.h);
    this.cursor.setAttribute("width", t.w);
    this.cursor.setAttribute("height", t.h);
    this.reading.textContent = this.words(n);
  };

  Floor.prototype.listen = function () {
    var self = this, t = this.data.tiles, svg = this.svg;
    svg.setAttribute("tabindex", "0");
    function under(event) {
      var p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      var column = Math.floor((p.x - t.x) / t.w), row = Math.floor((p.y - t.y) / t.h);
      if (row >= 0 && column >= 0 && row < t.rows && column < t.columns) { self.show(row * t.columns + column); }
    }
    svg.addEventListener("pointermove", under);
    svg.addEventListener("pointerdown", under);
    svg.addEventListener("focus", function () {
      if (self.at < 0) { self.show(Math.floor(t.rows / 2) * t.columns + Math.floor(t.columns / 2)); }
    });
    svg.addEventListener("keydown", function (event) {
      var steps = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };
      var step = steps[event.key];
      if (!step || self.at < 0) { return; }
      event.preventDefault();
      var row = Math.max(0, Math.min(t.rows - 1, Math.floor(self.at / t.columns) + step[0]));
      var column = Math.max(0, Math.min(t.columns - 1, self.at % t.columns + step[1]));
      self.show(row * t.columns + column);
    });
  };

  // draw fills the bands' cells and the figures anew.
  Floor.prototype.draw = function () {
    var d = this.data, t = d.tiles, paths = d.bands.names.map(function () { return []; });
    for (var row = 0; row < t.rows; row++) {
      var start = 0, before = -1;
      for (var column = 0; column <= t.columns; column++) {
        var l = column < t.columns ? this.level(row * t.columns + column) : null;
        var band = l === null ? -1 : Math.max(0, Math.min(paths.length - 1, Math.floor(l / d.bands.step) - d.bands.first));
        if (band === before) { continue; }
        if (before >= 0) {
          paths[before].push("M" + (t.x + start * t.w).toFixed(1) + " " + (t.y + row * t.h).toFixed(1) +
            "H" + (t.x + column * t.w).toFixed(1) + "V" + (t.y + (row + 1) * t.h).toFixed(1) + "H" + (t.x + start * t.w).toFixed(1) + "Z");
        }
        start = column;
        before = band;
      }
    }
    var svg = this.svg, self = this;
    d.bands.names.forEach(function (name, i) { svg.querySelector("path.cell." + name).setAttribute("d", paths[i].join("")); });
    svg.querySelectorAll("text.mapvalue").forEach(function (text, i) {
      var l = self.level(d.labels[i]);
      text.textContent = l === null ? "" : signed(l);
    });
    this.name();
    if (this.at >= 0) { this.show(this.at); }
  };

  // name says under the map and to screen readers what is drawn.
  Floor.prototype.name = function () {
    var d = this.data, quiet = -1, loud = -1;
    for (var n = 0; n < d.tiles.rows * d.tiles.columns; n++) {
      var l = this.level(n);
      if (l === null) { continue; }
      if (quiet < 0 || l < this.level(quiet)) { quiet = n; }
      if (loud < 0 || l > this.level(loud)) { loud = n; }
    }
    var title = "Sound level at " + d.tones[this.tone] + ", " + d.channels[this.channel];
    this.figure.querySelector("figcaption").textContent = title + ", dB";
    this.svg.querySelector("title").textContent = title;
    if (quiet >= 0) { this.svg.querySelector("desc").textContent = "Quietest " + this.words(quiet) + " Loudest " + this.words(loud); }
  };

  Floor.prototype.tune = function () {
    var self = this, tuner = this.figure.querySelector(".tuner"), slider = tuner.querySelector("input");
    this.tone = Number(slider.getAttribute("value"));
    slider.value = String(this.tone);
    slider.addEventListener("input", function () {
      self.tone = Number(slider.value);
      slider.setAttribute("aria-valuetext", self.data.tones[self.tone]);
      tuner.querySelector(".tone").textContent = self.data.tones[self.tone];
      self.draw();
    });
    this.data.channels.forEach(function (words, i) {
      var label = document.createElement("label"), radio = document.createElement("input");
      radio.type = "radio";
      radio.name = self.figure.id + "-channel";
      radio.value = String(i);
      radio.checked = i === 0;
      label.appendChild(radio);
      label.appendChild(document.createTextNode(" " + words.replace(/ speakers? ?/, " ").trim() + " "));
      tuner.querySelector(".channels").appendChild(label);
    });
    tuner.querySelector(".channels").addEventListener("change", function (event) {
      self.channel = Number(event.target.value);
      self.draw();
    });
    tuner.hidden = false;
  };

  document.querySelectorAll("figure.floor").forEach(function (figure) { new Floor(figure); });
})();
