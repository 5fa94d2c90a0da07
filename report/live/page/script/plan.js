// The plan of the section "live": handles for the speakers and the seat that a pointer drags and
// the arrow keys push. The drawing says in data-frame how metres become its units: "plan", the
// room's origin, units per metre; x runs down, y to the right.
window.live = window.live || {};
(function (live) {
  "use strict";
  var names = { left: "left speaker", right: "right speaker", seat: "seat" };
  var keys = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };

  function Plan(trial, svg) {
    var frame = svg.dataset.frame.split(" ").slice(1).map(Number);
    this.trial = trial;
    this.svg = svg;
    this.left = frame[0];
    this.top = frame[1];
    this.scale = frame[2];
    svg.setAttribute("role", "group");
    this.starts = {};
    this.handles = {};
    ["left", "right", "seat"].forEach(function (mark) { this.starts[mark] = this.shape(svg, mark, "start"); }, this);
    ["left", "right", "seat"].forEach(this.handle, this);
  }

  // shape adds a box or a head about the origin.
  Plan.prototype.shape = function (parent, mark, name) {
    var box = this.trial.data.rules.box, s = this.scale, g = live.element(parent, "g", {}), r = 0.1 * s;
    if (mark === "seat") {
      live.element(g, "path", { "class": name, d: "M" + -r / 2 + " " + -0.8 * r + "L0 " + -1.6 * r + "L" + r / 2 + " " + -0.8 * r });
      live.element(g, "circle", { "class": name, r: r });
    } else if (box[0] > 0) {
      live.element(g, "rect", { "class": name, x: -box[1] / 2 * s, y: -box[0] * s, width: box[1] * s, height: box[0] * s });
    } else {
      live.element(g, "circle", { "class": name, r: 4 });
    }
    return g;
  };

  // handle makes a mark that can be moved; one that is fixed is drawn only.
  Plan.prototype.handle = function (mark) {
    var d = this.trial.data, g = this.shape(this.svg, mark, mark === "seat" ? "head" : "cabinet"), self = this;
    this.handles[mark] = g;
    live.element(g, "circle", { "class": "mark", r: 2.6 });
    var span = d.field.seats, fixed = mark === "seat" ? span.x[1] - span.x[0] < 1e-6 && span.y[1] - span.y[0] < 1e-6 : d.rules.fixed;
    if (fixed) { return; }
    g.setAttribute("class", "handle");
    g.setAttribute("id", "live-" + mark);
    g.setAttribute("tabindex", "0");
    g.setAttribute("role", "button");
    g.setAttribute("aria-roledescription", "movable mark");
    live.element(g, "circle", { "class": "grip", r: 19 });
    var grabbed = null;
    g.addEventListener("pointerdown", function (event) {
      var p = self.under(event), at = self.trial.shown[mark];
      grabbed = { x: at.x - p.x, y: at.y - p.y };
      g.setPointerCapture(event.pointerId);
      event.preventDefault();
      g.focus({ preventScroll: true });
    });
    g.addEventListener("pointermove", function (event) {
      if (!grabbed) { return; }
      var p = self.under(event);
      self.trial.move(mark, p.x + grabbed.x, p.y + grabbed.y, 0.01);
    });
    ["pointerup", "pointercancel"].forEach(function (name) { g.addEventListener(name, function () { grabbed = null; }); });
    g.addEventListener("keydown", function (event) {
      var step = keys[event.key], at = (self.trial.next || self.trial.shown)[mark], by = event.shiftKey ? 0.10 : 0.01;
      if (!step || event.ctrlKey || event.altKey || event.metaKey) { return; }
      event.preventDefault();
      self.trial.move(mark, at.x + step[0] * by, at.y + step[1] * by, 0.01);
    });
  };

  // under returns where in the room a pointer is, m.
  Plan.prototype.under = function (event) {
    var p = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return { x: (p.y - this.top) / this.scale, y: (p.x - this.left) / this.scale };
  };

  Plan.prototype.draw = function () {
    var t = this.trial, first = t.data.layouts[t.start];
    ["left", "right", "seat"].forEach(function (mark) {
      this.put(this.starts[mark], first[mark]);
      var g = this.handles[mark], at = t.shown[mark];
      this.put(g, at);
      if (g.id) { g.setAttribute("aria-label", names[mark] + ": " + t.length(at.x) + " from the front wall, " + t.length(at.y) + " from the left wall"); }
      g.querySelector(".cabinet, circle.head").classList.toggle("broken", t.broken.length > 0);
    }, this);
  };

  Plan.prototype.put = function (g, at) {
    g.setAttribute("transform", "translate(" + (this.left + at.y * this.scale).toFixed(2) + " " + (this.top + at.x * this.scale).toFixed(2) + ")");
  };

  live.Plan = Plan;
})(window.live);
