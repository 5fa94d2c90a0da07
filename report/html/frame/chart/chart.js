// Draws the charts from the options in the page, in the page's own colours, and redraws
// them when colours or width change.
(function () {
  "use strict";
  var root = document.documentElement;
  var holders = Array.prototype.slice.call(document.querySelectorAll(".chart"));
  var charts = {};
  var paperWidth = 680; // px, about what a sheet has between its margins; charts shrink to it as a whole

  // coloured returns a copy of options with "var(--role)" replaced by the role's
  // colour.
  function coloured(value, css) {
    if (typeof value === "string") {
      var role = /^var\((--[a-z0-9-]+)\)$/.exec(value);
      return role ? css.getPropertyValue(role[1]).trim() : value;
    }
    if (Array.isArray(value)) {
      return value.map(function (v) { return coloured(v, css); });
    }
    if (value && typeof value === "object") {
      var copy = {};
      Object.keys(value).forEach(function (k) { copy[k] = coloured(value[k], css); });
      return copy;
    }
    return value;
  }

  function number(v, places) { return v.toFixed(places).replace("-", "\u2212"); }

  function absorptionTip(items) {
    var text = echarts.format.encodeHTML;
    var lines = [number(items[0].axisValue, 0) + " Hz"];
    items.forEach(function (item) {
      if (item.seriesName && Array.isArray(item.value)) {
        lines.push(item.marker + " <bdi>" + text(item.seriesName) + "</bdi>: " + number(item.value[1], 2));
      }
    });
    return lines.join("<br>");
  }

  function withWords(options, css) {
    options.tooltip.formatter = absorptionTip;
    options.tooltip.confine = true;
    options.tooltip.backgroundColor = css.getPropertyValue("--paper").trim();
    options.tooltip.borderColor = css.getPropertyValue("--rule").trim();
    options.tooltip.textStyle = { color: css.getPropertyValue("--ink").trim(), fontSize: 12 };
    options.yAxis.forEach(function (axis) {
      axis.axisLabel.formatter = function (v) { return number(v, 1); };
      axis.nameTextStyle = { color: css.getPropertyValue("--faint").trim() };
    });
    options.xAxis.forEach(function (axis) {
      axis.axisLabel.formatter = function (v) { return v < 1000 ? String(v) : v / 1000 + "k"; };
      axis.nameTextStyle = { color: css.getPropertyValue("--faint").trim() };
    });
    options.textStyle = { fontFamily: getComputedStyle(document.body).fontFamily };
    return options;
  }

  function draw() {
    var css = getComputedStyle(root);
    var drawn = 0;
    holders.forEach(function (holder) {
      if (charts[holder.id]) { charts[holder.id].dispose(); }
      var options = JSON.parse(document.getElementById(holder.id + "-options").textContent);
      var paper = root.classList.contains("print");
      var size = { renderer: "svg" };
      if (paper) { size.width = Math.min(holder.clientWidth, paperWidth); size.height = holder.clientHeight; }
      var chart = echarts.init(holder, null, size);
      chart.setOption(withWords(coloured(options, css), css));
      charts[holder.id] = chart;
      chart.getZr().flush();
      var svg = holder.querySelector("svg");
      if (svg && paper) { svg.setAttribute("viewBox", "0 0 " + chart.getWidth() + " " + chart.getHeight()); }
      drawn += svg ? 1 : 0;
    });
    document.body.setAttribute("data-charts", String(drawn));
  }

  if (typeof echarts === "undefined") { return; }
  draw();
  var widths = new ResizeObserver(function () {
    if (root.classList.contains("print")) { return; }
    Object.keys(charts).forEach(function (id) { charts[id].resize(); });
  });
  holders.forEach(function (holder) { widths.observe(holder); });
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  window.addEventListener("beforeprint", function () {
    root.classList.add("print");
    draw();
  });
  window.addEventListener("afterprint", function () {
    root.classList.remove("print");
    draw();
  });
})();
