// Says which rules of the room file a layout breaks, and by how much: what Go's
// model.Project.Breaches finds, in the words that the program left with the rules.
//
//   live.breaches(rules, layout)   [{what, amount, angle}]: metres, and radians for an angle
//
// A layout is {left, right, seat}, each {x, y, z} in m. rules holds what the program left in the
// page; a range is [least, most], null for none.
window.live = window.live || {};
(function (live) {
  "use strict";

  function below(range, v) { return range ? Math.max(0, range[0] - v) : 0; }
  function above(range, v) { return range && range[1] !== null ? Math.max(0, v - range[1]) : 0; }
  function plan(a, b) { return Math.hypot(a.x - b.x, a.y - b.y); }

  // outside returns how far a place is from the nearest of the zones; 0 if there are none.
  function outside(zones, at) {
    if (!zones.length) { return 0; }
    return Math.min.apply(null, zones.map(function (z) {
      return Math.hypot(Math.max(below(z.x, at.x), above(z.x, at.x)), Math.max(below(z.y, at.y), above(z.y, at.y)));
    }));
  }

  // depth returns the shortest shift along x or y that frees one block from another.
  function depth(a, b) {
    var overlap = a.min.every(function (v, i) { return v < b.max[i] && b.min[i] < a.max[i]; });
    return overlap ? Math.min(a.max[0] - b.min[0], b.max[0] - a.min[0], a.max[1] - b.min[1], b.max[1] - a.min[1]) : 0;
  }

  function edges(outline) { return outline.map(function (a, i) { return [a, outline[(i + 1) % outline.length]]; }); }

  // crossing returns the x at which an edge crosses a line along x, or null.
  function crossing(edge, y) {
    var a = edge[0], b = edge[1];
    return (a[1] > y) !== (b[1] > y) ? a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) : null;
  }

  function contains(outline, v) {
    return edges(outline).filter(function (e) { var x = crossing(e, v[1]); return x !== null && v[0] < x; }).length % 2 === 1;
  }

  function distance(outline, v) {
    return Math.min.apply(null, edges(outline).map(function (e) {
      var dx = e[1][0] - e[0][0], dy = e[1][1] - e[0][1];
      var t = ((v[0] - e[0][0]) * dx + (v[1] - e[0][1]) * dy) / (dx * dx + dy * dy);
      t = Math.max(0, Math.min(1, t));
      return Math.hypot(v[0] - e[0][0] - t * dx, v[1] - e[0][1] - t * dy);
    }));
  }

  // ahead returns how far it is from a place to the wall behind it.
  function ahead(outline, v) {
    var all = edges(outline).map(function (e) { return crossing(e, v[1]); }).filter(function (x) { return x !== null && x >= v[0]; });
    return all.length ? Math.min.apply(null, all) - v[0] : 0;
  }

  // clip cuts a polygon to the half-plane a + b·v >= 0 (Sutherland and Hodgman, 1974).
  function clip(outline, a, b) {
    var out = [];
    edges(outline).forEach(function (e) {
      var v = a + b[0] * e[0][0] + b[1] * e[0][1], w = a + b[0] * e[1][0] + b[1] * e[1][1], t = v / (v - w);
      if (v >= 0) { out.push(e[0]); }
      if ((v >= 0) !== (w >= 0)) { out.push([e[0][0] + t * (e[1][0] - e[0][0]), e[0][1] + t * (e[1][1] - e[0][1])]); }
    });
    return out;
  }

  function area(outline) {
    return Math.abs(edges(outline).reduce(function (sum, e) { return sum + e[0][0] * e[1][1] - e[1][0] * e[0][1]; }, 0)) / 2;
  }

  function corners(b) { return [[b.min[0], b.min[1]], [b.max[0], b.min[1]], [b.max[0], b.max[1]], [b.min[0], b.max[1]]]; }

  // beyond returns by how much a block reaches out of the floor plan.
  function beyond(outline, b) {
    var by = 0, wide = b.max[0] - b.min[0], deep = b.max[1] - b.min[1];
    corners(b).forEach(function (v) { if (!contains(outline, v)) { by = Math.max(by, distance(outline, v)); } });
    if (wide <= 0 || deep <= 0) { return by; }
    var rest = clip(clip(clip(clip(outline, -b.min[0], [1, 0]), b.max[0], [-1, 0]), -b.min[1], [0, 1]), b.max[1], [0, -1]);
    return Math.max(by, (wide * deep - (rest.length ? area(rest) : 0)) / Math.max(wide, deep));
  }

  // ceiling returns its height above a place.
  function ceiling(rules, v) {
    return rules.slopes.reduce(function (top, s) { return Math.min(top, s[0] + s[1] * v[0] + s[2] * v[1]); }, rules.size[2]);
  }

  function cabinet(rules, at) {
    var b = rules.box, mid = at.z + rules.below / 2;
    return { min: [at.x - b[0], at.y - b[1] / 2, mid - b[2] / 2], max: [at.x, at.y + b[1] / 2, mid + b[2] / 2] };
  }

  function stand(c) { return { min: [c.min[0], c.min[1], Math.min(0, c.min[2])], max: [c.max[0], c.max[1], c.min[2]] }; }

  function shifted(o, x, y) { return { min: [o.min[0] + x, o.min[1] + y, o.min[2]], max: [o.max[0] + x, o.max[1] + y, o.max[2]] }; }

  // ways returns how far on plan the middle of the pair and the seat are from where they are now.
  function ways(rules, l) {
    var now = rules.now;
    return {
      speakers: [(l.left.x + l.right.x) / 2 - now.pair[0], (l.left.y + l.right.y) / 2 - now.pair[1]],
      seat: [l.seat.x - now.seat[0], l.seat.y - now.seat[1]]
    };
  }

  // outOfTheWay returns an obstacle moved along the room as far as it may and must.
  function outOfTheWay(rules, o, l) {
    var point = [l.seat.x, l.seat.y, l.seat.z], boxes = [cabinet(rules, l.left), cabinet(rules, l.right)];
    var bodies = boxes.concat([{ min: point, max: point }], o.stand[0] ? boxes.map(stand) : []), best = o, least = Infinity;
    function attempt(d) {
      if (Math.abs(d) > o.along + 1e-6 || o.min[0] + d < Math.min(0, o.min[0]) - 1e-6 || o.max[0] + d > Math.max(rules.size[0], o.max[0]) + 1e-6) { return; }
      var moved = shifted(o, d, 0), within = bodies.reduce(function (sum, b) { return sum + depth(b, moved); }, 1e-3 * Math.abs(d));
      if (within < least) { least = within; best = moved; }
    }
    attempt(0);
    bodies.forEach(function (b) { attempt(b.min[0] - o.max[0]); attempt(b.max[0] - o.min[0]); });
    attempt(-o.along);
    attempt(o.along);
    return best;
  }

  // standing returns an obstacle as it stands in a layout.
  function standing(rules, o, l) {
    var way = ways(rules, l)[o.with];
    if (way) { return shifted(o, way[0], way[1]); }
    return o.along > 0 ? outOfTheWay(rules, o, l) : o;
  }

  live.breaches = function (rules, layout) {
    var found = [], left = layout.left, right = layout.right, seat = layout.seat, words = rules.words;
    var obstacles = rules.obstacles.map(function (o) { return { at: standing(rules, o, layout), rule: o }; }), way = ways(rules, layout).seat;
    function earsAt(e) { return e.mate ? [e.at[0] + way[0], e.at[1] + way[1], e.at[2]] : e.at; }
    function add(amount, what) { if (amount > 1e-4) { found.push({ what: what, amount: amount, angle: 0 }); } }
    function addAngle(angle, radius, what) { if (angle * radius > 1e-4) { found.push({ what: what, amount: angle * radius, angle: angle }); } }

    function speaker(side, at) {
      var c = cabinet(rules, at), size = rules.size;
      add(rules.rear - c.min[0], words.rear[side]);
      add(rules.side - c.min[1], words.leftWall[side]);
      add(c.max[1] - (size[1] - rules.side), words.rightWall[side]);
      add(c.max[0] - size[0], words.beyond[side]);
      add(-c.min[2], words.floor[side]);
      add(c.max[2] - size[2], words.ceiling[side]);
      if (!rules.plain) {
        var space = { min: [c.min[0] - rules.rear, c.min[1] - rules.side, c.min[2]], max: [c.max[0], c.max[1] + rules.side, c.max[2]] };
        add(beyond(rules.outline, space), words.plan[side]);
        var top = Math.min.apply(null, corners(c).map(function (v) { return ceiling(rules, v); }));
        add(c.max[2] - top, words.slope[side]);
      }
      add(outside(rules.stands, at), words.zone[side]);
      obstacles.forEach(function (o) {
        var within = depth(c, o.at);
        add(within, o.rule.words[side]);
        if (within === 0 && o.rule.stand[side]) { add(depth(stand(c), o.at), o.rule.stand[side]); }
      });
    }

    if (!rules.fixed) {
      speaker(0, left);
      speaker(1, right);
      rules.ears.forEach(function (e) {
        [left, right].forEach(function (at, side) {
          var v = earsAt(e);
          add(rules.earsClear - Math.hypot(at.x - v[0], at.y - v[1], at.z - v[2]), e.words[side]);
        });
      });
    }

    var v = [seat.x, seat.y], s = rules.size, ears = { min: [seat.x, seat.y, seat.z], max: [seat.x, seat.y, seat.z] };
    add(Math.max(-seat.x, -seat.y, -seat.z, seat.x - s[0], seat.y - s[1], seat.z - s[2]), words.seatRoom[0]);
    if (rules.plain) {
      add(seat.x - (s[0] - rules.back), words.seatBackWall[0]);
    } else {
      add(beyond(rules.outline, ears), words.seatPlan[0]);
      add(rules.back - ahead(rules.outline, v), words.seatWallBehind[0]);
      add(seat.z - ceiling(rules, v), words.seatSlope[0]);
    }
    add(outside(rules.seats, seat), words.seatZone[0]);
    obstacles.forEach(function (o) { add(depth(ears, o.at), o.rule.seat); });
    rules.ears.filter(function (e) { return e.mate; }).forEach(function (e) {
      var m = earsAt(e), p = [m[0], m[1]], block = { min: m, max: m };
      add(rules.plain ? Math.max(-m[0], -m[1], m[1] - s[1], m[0] - (s[0] - rules.back)) :
        Math.max(beyond(rules.outline, block), rules.back - ahead(rules.outline, p), m[2] - ceiling(rules, p)), e.mate);
    });

    var l = plan(left, seat), r = plan(right, seat), apart = plan(left, right);
    [l, r].forEach(function (d, side) {
      add(below(rules.distance, d), words.seatNear[side]);
      add(above(rules.distance, d), words.seatFar[side]);
    });
    if (!rules.fixed) {
      add(below(rules.apart, apart), words.near[0]);
      add(above(rules.apart, apart), words.far[0]);
    }
    if (rules.balance !== null) { add(Math.abs(l - r) - rules.balance, words.seatUneven[0]); }
    var angle = Math.abs(Math.atan2(left.y - seat.y, left.x - seat.x) - Math.atan2(right.y - seat.y, right.x - seat.x));
    angle = Math.min(angle, 2 * Math.PI - angle);
    addAngle(below(rules.angle, angle), (l + r) / 2, words.narrow[0]);
    addAngle(above(rules.angle, angle), (l + r) / 2, words.wide[0]);
    add(Math.max(left.x, right.x) - seat.x, words.seatAhead[0]);
    return found;
  };
})(window.live);
