// Answers for the sound at any place of the zones, from the table that the program left in the
// page (Go package optimize/series). It interpolates and adds; it solves nothing.
//
//   live.unpack(text)           a promise of the coefficients: base64, deflate, lower bytes of
//                               all numbers, then upper bytes, each folded to 2n or -2n-1
//   new live.Field(data, nums)  the field
//   field.transfer(seat, at)    pressure per volume velocity at a seat from a woofer, Pa·s/m³,
//                               real and imaginary parts by turns, by frequency
//   field.holds(seat, at)       whether the table covers both places
//
// A place is {x, y, z} in m. data holds: grid (Hz), speed (m/s), density (kg/m³), loss, step,
// seats {x, y, z, terms}, panels [{x, y, terms}], heights.
window.live = window.live || {};
(function (live) {
  "use strict";

  live.unpack = function (text) {
    var raw = atob(text), bytes = new Uint8Array(raw.length);
    for (var i = 0; i < raw.length; i++) { bytes[i] = raw.charCodeAt(i); }
    var stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
    return new Response(stream).arrayBuffer().then(function (buffer) {
      var b = new Uint8Array(buffer), n = b.length / 2, numbers = new Int16Array(n);
      for (var i = 0; i < n; i++) {
        var u = b[i] | b[n + i] << 8;
        numbers[i] = u & 1 ? -(u >> 1) - 1 : u >> 1;
      }
      return numbers;
    });
  };

  // polynomials returns the Chebyshev polynomials T0 to T(n-1) at a place of a span.
  function polynomials(span, v, n) {
    var length = span[1] - span[0], x = length < 1e-9 ? 0 : (2 * v - span[0] - span[1]) / length, t = [1, x];
    for (var k = 2; k < n; k++) { t.push(2 * x * t[k - 1] - t[k - 2]); }
    return t.slice(0, n);
  }

  function within(span, v) { return v >= span[0] - 1e-9 && v <= span[1] + 1e-9; }

  function Field(data, numbers) {
    this.data = data;
    this.numbers = numbers;
    this.width = 2 * data.grid.length;
    this.perSeat = 0;
    this.starts = []; // of each panel, in numbers
    for (var i = 0; i < data.panels.length; i++) {
      this.starts.push(this.perSeat);
      this.perSeat += data.heights.length * this.plane(i);
    }
    this.rows = {}; // by panel and height: the table summed over the seat's series
    this.seat = null;
    this.begin();
  }

  // begin finds where the numbers of each coefficient begin: waves longer than its ripples leave
  // it zero, and the sums skip those.
  Field.prototype.begin = function () {
    var n = this.numbers.length / this.width;
    this.first = new Int32Array(n);
    for (var i = 0; i < n; i++) {
      var at = i * this.width, end = at + this.width;
      while (at < end && this.numbers[at] === 0) { at++; }
      this.first[i] = at - i * this.width;
    }
  };

  // plane is how many numbers a panel has at one height.
  Field.prototype.plane = function (panel) {
    var terms = this.data.panels[panel].terms;
    return this.width * terms[0] * terms[1];
  };

  // sit sums over the series of a seat, once for each panel and height.
  Field.prototype.sit = function (seat, panel, height) {
    if (!this.seat || this.seat.x !== seat.x || this.seat.y !== seat.y) {
      this.seat = { x: seat.x, y: seat.y };
      this.rows = {};
    }
    var key = panel + " " + height;
    if (this.rows[key]) { return this.rows[key]; }
    var s = this.data.seats, n = this.plane(panel), sum = new Float64Array(n);
    var tx = polynomials(s.x, seat.x, s.terms[0]), ty = polynomials(s.y, seat.y, s.terms[1]);
    for (var i = 0; i < tx.length; i++) {
      for (var j = 0; j < ty.length; j++) {
        this.addSeat(sum, tx[i] * ty[j], (i * ty.length + j) * this.perSeat + this.starts[panel] + height * n);
      }
    }
    this.rows[key] = sum;
    return sum;
  };

  // addSeat adds a weight of one of the seat's terms, whose numbers begin at a place.
  Field.prototype.addSeat = function (sum, weight, at) {
    var numbers = this.numbers, width = this.width;
    for (var row = 0; row < sum.length; row += width) {
      for (var k = row + this.first[(at + row) / width], end = row + width; k < end; k++) { sum[k] += weight * numbers[at + k]; }
    }
  };

  // panelOf returns the number of the panel that holds a woofer, or -1.
  Field.prototype.panelOf = function (at) {
    return this.data.panels.findIndex(function (p) { return within(p.x, at.x) && within(p.y, at.y); });
  };

  Field.prototype.heightOf = function (at) {
    return this.data.heights.findIndex(function (z) { return Math.abs(z - at.z) < 1e-7; });
  };

  Field.prototype.holds = function (seat, at) {
    var s = this.data.seats;
    return within(s.x, seat.x) && within(s.y, seat.y) && Math.abs(s.z - seat.z) < 1e-7 && this.panelOf(at) >= 0 && this.heightOf(at) >= 0;
  };

  Field.prototype.transfer = function (seat, at) {
    var d = this.data, panel = this.panelOf(at), p = d.panels[panel], rows = this.sit(seat, panel, this.heightOf(at));
    var out = new Float64Array(this.width), width = this.width;
    var tx = polynomials(p.x, at.x, p.terms[0]), ty = polynomials(p.y, at.y, p.terms[1]);
    for (var m = 0; m < tx.length; m++) {
      for (var n = 0; n < ty.length; n++) {
        var w = tx[m] * ty[n], from = (m * ty.length + n) * width;
        for (var k = 0; k < width; k++) { out[k] += w * rows[from + k]; }
      }
    }
    // The free field jωρ e^(-jkr)/(4πr) comes on top; the table is without it.
    var r = Math.max(0.01, Math.hypot(at.x - seat.x, at.y - seat.y, at.z - seat.z));
    for (var i = 0; i < d.grid.length; i++) {
      var omega = 2 * Math.PI * d.grid[i], kr = omega / d.speed * r;
      var a = omega * d.density / (4 * Math.PI * r) * Math.exp(-kr * d.loss);
      out[2 * i] = out[2 * i] * d.step[i] + a * Math.sin(kr);
      out[2 * i + 1] = out[2 * i + 1] * d.step[i] + a * Math.cos(kr);
    }
    return out;
  };

  live.Field = Field;
})(window.live);
