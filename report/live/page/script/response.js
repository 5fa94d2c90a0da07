// Reads figures off transfers by the recipe of Go package model/response, step by step: the
// transfer is interpolated to twice the frequencies, its power is averaged over a fraction of an
// octave, and each figure is that of the worst of left, right and both.
//
//   new live.Reader(grid, density, goal, rollOff)
//       goal: {from, to, smoothing}; rollOff: {limit, order} of the speakers, a limit of 0 is none
//   reader.curve(transfer)      smoothed level, dB, over the doubled grid
//   reader.card(left, right)    {spread, deviation, within, dip, low, channels: [{fine, curve, mean, ...}]}
window.live = window.live || {};
(function (live) {
  "use strict";
  var octave = Math.pow(10, 0.3); // the base-ten octave ratio of IEC 61260-1:2014
  var lead = 0.12;                // by how much the signal is taken earlier, of the time that a step holds
  var tolerated = 6;              // dB

  function Reader(grid, density, goal, rollOff) {
    this.grid = grid;
    this.goal = goal;
    this.interpolate();
    this.window(goal.smoothing);
    this.scale = Float64Array.from(this.fine, function (f) {
      return Math.pow(4 * Math.PI / (2 * Math.PI * f * density), 2) / (1 + Math.pow(rollOff.limit / f, 2 * rollOff.order));
    });
    this.lo = 0;
    this.hi = 0;
    for (var i = 0; i < this.fine.length; i++) {
      if (this.fine[i] < goal.from * (1 - 1e-12)) { this.lo = i + 1; }
      if (this.fine[i] <= goal.to * (1 + 1e-12)) { this.hi = i + 1; }
    }
    this.share = this.shares(this.lo, this.hi);
  }

  // interpolate lays a cubic through four neighbours of each step's middle.
  Reader.prototype.interpolate = function () {
    var g = this.grid, n = g.length;
    this.fine = new Float64Array(2 * n - 1);
    this.first = new Int32Array(n - 1);
    this.weights = new Float64Array(8 * (n - 1));
    for (var i = 0; i < n; i++) {
      this.fine[2 * i] = g[i];
      if (i === n - 1) { break; }
      var middle = (g[i] + g[i + 1]) / 2, first = Math.max(0, Math.min(n - 4, i - 1));
      this.fine[2 * i + 1] = middle;
      this.first[i] = first;
      for (var j = 0; j < 4; j++) {
        var w = 1;
        for (var k = 0; k < 4; k++) {
          if (k !== j) { w *= (middle - g[first + k]) / (g[first + j] - g[first + k]); }
        }
        var turn = 2 * Math.PI * (g[first + j] - middle) * lead / (g[i + 1] - g[i]);
        this.weights[8 * i + 2 * j] = w * Math.cos(turn);
        this.weights[8 * i + 2 * j + 1] = w * Math.sin(turn);
      }
    }
  };

  // window finds, for each frequency, the edges of what its mean is taken over.
  Reader.prototype.window = function (fraction) {
    var u = Float64Array.from(this.fine, Math.log), n = u.length, reach = Math.log(octave) / (2 * fraction);
    function edge(v) {
      var at = 0;
      while (at < n - 2 && u[at + 1] <= v) { at++; }
      var step = u[at + 1] - u[at], t = (v - u[at]) / step;
      return { at: at, near: step * (t - t * t / 2), next: step * t * t / 2 };
    }
    this.log = u;
    this.windows = Array.from(u, function (v) {
      var from = Math.max(v - reach, u[0]), to = Math.min(v + reach, u[n - 1]);
      return { from: edge(from), to: edge(to), perLength: 1 / (to - from) };
    });
  };

  // shares returns each frequency's share of a part of the doubled grid, over lg f.
  Reader.prototype.shares = function (lo, hi) {
    var u = this.log, whole = u[hi - 1] - u[lo], w = new Float64Array(hi - lo);
    for (var i = lo + 1; i < hi; i++) {
      var step = (u[i] - u[i - 1]) / whole / 2;
      w[i - 1 - lo] += step;
      w[i - lo] += step;
    }
    return w;
  };

  // power returns the power of a transfer re the free field at 1 m, over the doubled grid.
  Reader.prototype.power = function (p) {
    var n = this.grid.length, out = new Float64Array(2 * n - 1);
    for (var i = 0; i < n; i++) {
      out[2 * i] = this.scale[2 * i] * (p[2 * i] * p[2 * i] + p[2 * i + 1] * p[2 * i + 1]);
      if (i === n - 1) { break; }
      var re = 0, im = 0;
      for (var j = 0; j < 4; j++) {
        var a = this.weights[8 * i + 2 * j], b = this.weights[8 * i + 2 * j + 1], at = 2 * (this.first[i] + j);
        re += a * p[at] - b * p[at + 1];
        im += a * p[at + 1] + b * p[at];
      }
      out[2 * i + 1] = this.scale[2 * i + 1] * (re * re + im * im);
    }
    return out;
  };

  // smooth returns the mean of a power over the window about each frequency. The power is taken
  // as straight over lg f, and the mean as the difference of its integral.
  Reader.prototype.smooth = function (power) {
    var n = power.length, integral = new Float64Array(n), out = new Float64Array(n);
    for (var i = 1; i < n; i++) { integral[i] = integral[i - 1] + (this.log[i] - this.log[i - 1]) / 2 * (power[i - 1] + power[i]); }
    function upTo(e) { return integral[e.at] + e.near * power[e.at] + e.next * power[e.at + 1]; }
    for (i = 0; i < n; i++) { out[i] = this.windows[i].perLength * (upTo(this.windows[i].to) - upTo(this.windows[i].from)); }
    return out;
  };

  function level(power) { return 10 * Math.log10(power); }

  Reader.prototype.curve = function (transfer) { return this.smooth(this.power(transfer)).map(level); };

  // summit returns the extreme of the parabola that is 0 at 0, or 0 if it has none between.
  function summit(left, right, before, after) {
    var a = (after / right + before / left) / (left + right);
    var b = (after * left / right - before * right / left) / (left + right), x = -b / (2 * a);
    return x > -left && x < right ? -b * b / (4 * a) : 0;
  }

  // extreme returns the level at the top or the bottom near point i of a curve.
  Reader.prototype.extreme = function (curve, i) {
    if (i === this.lo || i === this.hi - 1) { return curve[i]; }
    var f = this.fine;
    return curve[i] + summit(f[i] - f[i - 1], f[i + 1] - f[i], curve[i - 1] - curve[i], curve[i + 1] - curve[i]);
  };

  // figures returns what is read off one channel.
  Reader.prototype.figures = function (transfer) {
    var power = this.power(transfer), curve = this.smooth(power).map(level), lo = this.lo, hi = this.hi;
    var top = lo, bottom = lo, average = 0, squares = 0, sum = 0;
    for (var i = lo; i < hi; i++) {
      var w = this.share[i - lo];
      average += w * curve[i];
      squares += w * curve[i] * curve[i];
      sum += w * power[i];
      if (curve[i] > curve[top]) { top = i; }
      if (curve[i] < curve[bottom]) { bottom = i; }
    }
    var mean = level(sum), lowest = this.extreme(curve, bottom);
    return {
      fine: this.fine, curve: curve, mean: mean, spread: (this.extreme(curve, top) - lowest) / 2,
      deviation: Math.sqrt(Math.max(0, squares - average * average)),
      within: this.within(curve, mean), low: this.lowOctave(power) - mean,
      dip: { frequency: this.fine[bottom], level: lowest - mean }
    };
  };

  // within returns the share of the band, over lg f, that is within 6 dB of the mean.
  Reader.prototype.within = function (curve, mean) {
    var sum = 0;
    for (var i = this.lo + 1; i < this.hi; i++) {
      var low = Math.min(curve[i - 1], curve[i]) - mean, high = Math.max(curve[i - 1], curve[i]) - mean;
      var inside = Math.min(high, tolerated) - Math.max(low, -tolerated);
      var share = inside < 0 ? 0 : high === low ? 1 : inside / (high - low);
      sum += share * (this.log[i] - this.log[i - 1]);
    }
    return sum / (this.log[this.hi - 1] - this.log[this.lo]);
  };

  // lowOctave returns the power mean of the band's lowest octave, dB.
  Reader.prototype.lowOctave = function (power) {
    var hi = this.lo + 1;
    while (hi < this.hi - 1 && this.fine[hi] < 2 * this.fine[this.lo] * (1 - 1e-9)) { hi++; }
    var lo = this.lo, sum = 0;
    this.shares(lo, hi + 1).forEach(function (w, i) { sum += w * power[lo + i]; });
    return level(sum);
  };

  // card returns the figures of a pair, each from the channel where it is worst.
  Reader.prototype.card = function (left, right) {
    var both = left.map(function (v, i) { return v + right[i]; }), self = this;
    var all = [left, right, both].map(function (p) { return self.figures(p); });
    var card = { channels: all, worst: 0, spread: 0, deviation: 0, within: 1, low: 0, dip: { level: Infinity } };
    all.forEach(function (f, i) {
      if (f.spread > card.spread) { card.spread = f.spread; card.worst = i; }
      card.deviation = Math.max(card.deviation, f.deviation);
      card.within = Math.min(card.within, f.within);
      if (Math.abs(f.low) > Math.abs(card.low)) { card.low = f.low; }
      if (f.dip.level < card.dip.level) { card.dip = { level: f.dip.level, frequency: f.dip.frequency, channel: i }; }
    });
    return card;
  };

  live.Reader = Reader;
})(window.live);
