// Lets the reader move speakers and seat on the plan, and redraws what follows from it: curve,
// card, tape distances, broken rules, lines for the room file. It writes only into the section
// "live", which stays hidden where scripts are off or the browser cannot unpack the table.
//
//   live.trial          the section's state, for tests
//   live.trial.set(l)   shows a layout {left, right, seat} at once
//   live.trial.ready    a promise that is kept once the section shows
//   live.trial.build(l) shows the room with a list of options; a promise that is kept once it shows
window.live = window.live || {};
(function (live) {
  "use strict";
  var space = "http://www.w3.org/2000/svg";
  var figures = ["spread", "deviation", "within", "dip", "low"];
  var faults = { // how bad a figure is
    spread: function (c) { return c.spread; },
    deviation: function (c) { return c.deviation; },
    within: function (c) { return -c.within; },
    dip: function (c) { return -c.dip.level; },
    low: function (c) { return Math.abs(c.low); }
  };

  function byId(id) { return document.getElementById(id); }

  function number(v, places) {
    var t = Math.abs(v).toFixed(places);
    return (v < 0 && Number(t) !== 0 ? "\u2212" : "") + t;
  }

  // inches writes a length in feet and inches to so many parts of an inch.
  function inches(m, of) {
    var parts = Math.round(Math.abs(m) / 0.0254 * of), feet = Math.floor(parts / (12 * of)), part = parts % of;
    var whole = Math.floor(parts % (12 * of) / of);
    while (part && part % 2 === 0) { part /= 2; of /= 2; }
    var text = part === 0 ? whole + " in" : (whole === 0 && !feet ? "" : whole + " ") + part + "/" + of + " in";
    return (m < 0 && parts ? "\u2212" : "") + (feet ? feet + " ft " : "") + text;
  }

  function Trial(section) {
    this.data = JSON.parse(byId("live-data").textContent);
    this.section = section;
    this.shown = null;   // the layout
    this.start = this.data.start;
    this.parts = [];     // the options that are carried out, by their places in data.options
    this.ticked = [];    // those that the reader has switched on, the latest last
    this.built = {};     // by the parts: a promise of {field, reader}
    this.pending = false;
    var self = this;
    this.ready = live.unpack(this.data.field.numbers).then(function (numbers) { self.open(numbers); });
  }

  // open shows the section once the table is unpacked.
  Trial.prototype.open = function (numbers) {
    var d = this.data, self = this;
    this.built[""] = Promise.resolve(this.use(this.answering(d.field, numbers)));
    this.first = this.cardOf(d.layouts[0]);
    byId("live-first").textContent = d.layouts[0].name;
    this.section.hidden = false;
    this.plan = new live.Plan(this, byId("live-plan-drawing"));
    this.graphs = Array.prototype.map.call(this.section.querySelectorAll("svg.graph"), function (svg) { return new live.Graph(self, svg); });
    this.write("first", this.first);
    this.scale = new live.Scale(this);
    this.listen();
    this.set(d.layouts[this.start]);
    window.addEventListener("resize", function () { self.graphs.forEach(function (g) { g.draw(); }); });
  };

  // answering returns what answers for a room: its field, and what reads figures off it.
  Trial.prototype.answering = function (field, numbers) {
    return { field: new live.Field(field, numbers), reader: new live.Reader(field.grid, field.density, this.data.goal, this.data.rollOff) };
  };

  Trial.prototype.use = function (room) {
    this.field = room.field;
    this.reader = room.reader;
    return room;
  };

  // stored returns what the page holds of the room with a list of options, if it does.
  Trial.prototype.stored = function (parts) {
    return this.data.builds.find(function (b) { return String(b.parts) === String(parts); });
  };

  // tick switches an option on or off. Off goes too, the longest ticked first, what the page does not hold with it.
  Trial.prototype.tick = function (option, on) {
    var others = this.ticked.filter(function (p) { return p !== option; }), own = on ? [option] : [];
    function sorted() { return others.concat(own).sort(function (a, b) { return a - b; }); }
    while (others.length && !this.stored(sorted())) { others.shift(); }
    this.ticked = others.concat(own);
    this.section.querySelectorAll("[name=live-option]").forEach(function (box) { box.checked = this.ticked.indexOf(Number(box.value)) >= 0; }, this);
    return this.build(sorted());
  };

  // build shows the room with options; their table is unpacked when it is first asked for.
  Trial.prototype.build = function (parts) {
    var self = this, key = String(parts);
    this.wanted = key;
    if (!this.built[key]) {
      var field = this.stored(parts).field;
      this.built[key] = live.unpack(field.numbers).then(function (numbers) { return self.answering(field, numbers); });
    }
    return this.built[key].then(function (room) {
      if (self.wanted !== key) { return; } // the reader has changed their mind
      self.parts = parts;
      self.use(room);
      self.set(self.shown);
      self.say();
    });
  };

  Trial.prototype.length = function (m, fine) {
    var metric = number(100 * m, fine && Math.abs(m) < 0.0995 ? 1 : 0) + " cm";
    var imperial = inches(m, fine ? 8 : 4);
    return this.data.units === "imperial" ? imperial : this.data.units === "both" ? metric + " (" + imperial + ")" : metric;
  };

  Trial.prototype.cardOf = function (l) {
    return this.reader.card(this.field.transfer(l.seat, l.left), this.field.transfer(l.seat, l.right));
  };

  function copy(l) {
    function at(v) { return { x: v.x, y: v.y, z: v.z }; }
    return { left: at(l.left), right: at(l.right), seat: at(l.seat) };
  }

  // set shows a layout that the table holds.
  Trial.prototype.set = function (l) {
    this.shown = copy(l);
    this.card = this.cardOf(this.shown);
    this.broken = live.breaches(this.data.rules, this.shown);
    this.draw();
  };

  // move puts a mark as near to a place as the table, the pair's symmetry and a pitch in m allow,
  // and shows it with the next frame.
  Trial.prototype.move = function (mark, x, y, pitch) {
    var d = this.data, l = this.next || copy(this.shown);
    function clamp(span, v, before) {
      return Math.abs(v - before) < 1e-9 ? before : Math.max(span[0], Math.min(span[1], Math.round(v / pitch) * pitch));
    }
    if (mark === "seat") {
      l.seat.x = clamp(d.field.seats.x, x, l.seat.x);
      l.seat.y = clamp(d.field.seats.y, y, l.seat.y);
    } else {
      var panels = d.field.panels, own = panels[mark === "left" ? 0 : panels.length - 1], other = mark === "left" ? "right" : "left";
      l[mark].x = clamp(own.x, x, l[mark].x);
      l[mark].y = clamp(own.y, y, l[mark].y);
      if (d.middle !== null && !d.rules.fixed) {
        l[other].x = l[mark].x;
        l[other].y = Math.round((2 * d.middle - l[mark].y) * 1e4) / 1e4;
        var mirror = panels[other === "left" ? 0 : panels.length - 1];
        if (l[other].y < mirror.y[0] - 1e-9 || l[other].y > mirror.y[1] + 1e-9) {
          l[other].y = Math.max(mirror.y[0], Math.min(mirror.y[1], l[other].y));
          l[mark].y = 2 * d.middle - l[other].y;
        }
      }
    }
    this.next = l;
    this.soon();
  };

  // soon shows the next layout with the next frame.
  Trial.prototype.soon = function () {
    if (this.pending) { return; }
    this.pending = true;
    var self = this;
    requestAnimationFrame(function () {
      self.pending = false;
      var l = self.next;
      self.next = null;
      var begin = performance.now();
      self.set(l);
      self.took = performance.now() - begin;
      self.say();
    });
  };

  Trial.prototype.draw = function () {
    this.plan.draw();
    this.graphs.forEach(function (g) { g.draw(); });
    byId("live-channel").textContent = this.channelText();
    this.write("here", this.card);
    this.listLimits();
    this.fillDistances();
    byId("live-tape").textContent = this.tapeText();
    byId("live-lines").textContent = this.lines();
  };

  // partNames names the options that are carried out.
  Trial.prototype.partNames = function () {
    return this.parts.map(function (p) { return this.data.options[p]; }, this).join(" and ");
  };

  Trial.prototype.channelText = function () {
    var g = this.data.goal, name = this.data.channels[this.card.worst];
    var room = this.parts.length ? " with " + this.partNames() : "";
    return "Level at the seat" + room + ", " + name + ", which has the largest spread here; smoothed to 1/" + g.smoothing + " octave; 0 dB is the mean of " + g.from + " to " + g.to + " Hz.";
  };

  Trial.prototype.figure = function (card, key) {
    switch (key) {
    case "spread": return "\u00b1" + number(card.spread, 1) + " dB";
    case "within": return number(100 * card.within, 0) + " %";
    case "dip": return number(card.dip.level, 1) + " dB at " + number(card.dip.frequency, 0) + " Hz";
    case "low": return (card.low > 0 ? "+" : "") + number(card.low, 1) + " dB";
    }
    return number(card[key], 1) + " dB";
  };

  Trial.prototype.write = function (column, card) {
    figures.forEach(function (key) {
      var mark = column === "here" ? " " + this.mark(key) : "";
      this.section.querySelector("[data-" + column + "=" + key + "]").textContent = this.figure(card, key) + mark;
    }, this);
  };

  // mark says whether a figure is better or worse than that of the first layout, or changes by
  // less than the prediction tells.
  Trial.prototype.mark = function (key) {
    var fault = faults[key], change = fault(this.card) - fault(this.first);
    return this.data.signs[Math.abs(change) <= this.data.resolution[key] ? 0 : change < 0 ? 1 : 2];
  };

  // limitText writes by how much a rule is broken.
  Trial.prototype.limitText = function (b) {
    var degrees = b.angle * 180 / Math.PI;
    return b.what + ", by " + (b.angle ? number(degrees, degrees < 9.95 ? 1 : 0) + "\u00b0" : this.length(b.amount, true));
  };

  Trial.prototype.listLimits = function () {
    var box = byId("live-limits"), list = document.createElement("ul"), self = this;
    box.textContent = this.broken.length ? "This breaks rules of the room file:" : "This keeps every rule of the room file.";
    this.broken.forEach(function (b) {
      var item = document.createElement("li");
      item.textContent = self.limitText(b);
      list.appendChild(item);
    });
    if (this.broken.length) { box.appendChild(list); }
  };

  // unit is how many of the typed units a metre has.
  Trial.prototype.unit = function () { return this.data.units === "imperial" ? 1 / 0.0254 : 100; };

  Trial.prototype.fillDistances = function () {
    var l = this.shown, unit = this.unit();
    ["left", "right", "seat"].forEach(function (mark) {
      ["x", "y"].forEach(function (axis) {
        var box = byId("live-" + mark + "-" + axis);
        if (box && box !== document.activeElement) { box.value = String(Math.round(l[mark][axis] * unit * 10) / 10); }
      });
    });
    var heights = byId("live-height");
    if (heights) { heights.value = String(this.field.heightOf(l.left)); }
  };

  Trial.prototype.tapeText = function () {
    var l = this.shown;
    function plan(a, b) { return Math.hypot(a.x - b.x, a.y - b.y); }
    return "On the floor: seat to left woofer " + this.length(plan(l.seat, l.left)) + ", to right woofer " + this.length(plan(l.seat, l.right)) +
      ", woofers " + this.length(plan(l.left, l.right)) + " apart.";
  };

  // lines returns the places as the room file writes them.
  Trial.prototype.lines = function () {
    var l = this.shown;
    function at(v) { return "[" + [v.x, v.y, v.z].map(function (c) { return String(Math.round(c * 1e4) / 1e4) + " m"; }).join(", ") + "]"; }
    return "# under speakers:\nnow: {left: " + at(l.left) + ", right: " + at(l.right) + "}\n# at the first of seats:\nat: " + at(l.seat) + "\n";
  };

  // say tells screen readers what changed, once movement has paused.
  Trial.prototype.say = function () {
    var self = this;
    clearTimeout(this.saying);
    this.saying = setTimeout(function () {
      var room = self.parts.length ? "With " + self.partNames() + ": " : "";
      byId("live-status").textContent = room + "Spread " + self.figure(self.card, "spread") + ", deepest dip " + self.figure(self.card, "dip") + ". " +
        (self.broken.length ? "Rules broken: " + self.broken.map(self.limitText, self).join("; ") + "." : "Every rule is kept.");
    }, 400);
  };

  Trial.prototype.listen = function () {
    var self = this, d = this.data;
    this.section.querySelectorAll("[name=live-start]").forEach(function (radio) {
      radio.checked = Number(radio.value) === self.start;
      radio.addEventListener("change", function () { self.start = Number(radio.value); self.reset(); });
    });
    this.section.querySelectorAll("[name=live-option]").forEach(function (box) {
      box.checked = false;
      box.addEventListener("change", function () { self.tick(Number(box.value), box.checked); });
    });
    byId("live-reset").addEventListener("click", function () { self.reset(); });
    byId("live-copy").addEventListener("click", function () { self.copyLines(); });
    ["left", "right", "seat"].forEach(function (mark) {
      ["x", "y"].forEach(function (axis) {
        var box = byId("live-" + mark + "-" + axis);
        if (!box) { return; }
        box.addEventListener("input", function () {
          var at = Object.assign({}, self.shown[mark]), v = Number(box.value) / self.unit();
          if (box.value === "" || !isFinite(v)) { return; }
          at[axis] = v;
          self.move(mark, at.x, at.y, 1e-4);
        });
        box.addEventListener("blur", function () { self.fillDistances(); });
      });
    });
    var heights = byId("live-height");
    if (!heights) { return; }
    heights.addEventListener("change", function () {
      var l = copy(self.shown);
      l.left.z = l.right.z = d.field.heights[Number(heights.value)];
      self.next = l;
      self.soon();
    });
  };

  Trial.prototype.reset = function () {
    this.next = copy(this.data.layouts[this.start]);
    this.soon();
  };

  Trial.prototype.copyLines = function () {
    var code = byId("live-lines"), range = document.createRange(), selection = getSelection();
    range.selectNodeContents(code);
    selection.removeAllRanges();
    selection.addRange(range);
    var done = "The lines are copied.", failed = "The lines are selected: copy them with Ctrl+C.";
    if (!navigator.clipboard) { byId("live-status").textContent = failed; return; }
    navigator.clipboard.writeText(code.textContent).then(
      function () { byId("live-status").textContent = done; }, function () { byId("live-status").textContent = failed; });
  };

  live.element = function (parent, name, attributes) {
    var e = document.createElementNS(space, name);
    Object.keys(attributes).forEach(function (k) { e.setAttribute(k, attributes[k]); });
    parent.appendChild(e);
    return e;
  };
  live.number = number;

  live.begin = function () {
    var section = byId("live");
    if (section && typeof DecompressionStream !== "undefined") { live.trial = new Trial(section); }
  };
})(window.live);
