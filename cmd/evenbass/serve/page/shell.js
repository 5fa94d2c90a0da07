// Shows what the program does, and each new page where the reader was in the last one.
(function () {
  "use strict";
  var frame = document.getElementById("page"), doing = document.getElementById("doing");
  var bar = document.getElementById("share"), form = document.getElementById("settings");
  var shown = frame.hasAttribute("src") ? null : 0; // the number of the page in the frame; null: some page
  var open = [], scroll = 0;

  function say(text, fault) {
    if (doing.textContent !== text) { doing.textContent = text; }
    document.body.classList.toggle("fault", fault);
  }

  function remember() {
    try {
      scroll = frame.contentWindow.scrollY;
      open = Array.prototype.map.call(frame.contentDocument.querySelectorAll("details[open] > summary h2[id]"), function (h) { return h.id; });
    } catch (e) { scroll = 0; open = []; }
  }

  frame.addEventListener("load", function () {
    open.forEach(function (id) {
      var head = frame.contentDocument.getElementById(id);
      if (head && head.closest("details")) { head.closest("details").open = true; }
    });
    frame.contentWindow.scrollTo(0, scroll);
  });

  function show(number) {
    if (number === 0 || number === shown) { return; }
    if (shown === null) { shown = number; return; }
    if (shown > 0) { remember(); }
    shown = number;
    frame.hidden = false;
    if (frame.hasAttribute("src")) { frame.contentWindow.location.reload(); } else { frame.src = "page"; }
  }

  var stream = new EventSource("events");
  stream.onmessage = function (e) {
    var s = JSON.parse(e.data);
    bar.hidden = s.doing !== "working";
    bar.value = s.share;
    if (s.doing === "working") { say(s.task.charAt(0).toUpperCase() + s.task.slice(1) + (s.page ? "; the page below is the one before." : "."), false); }
    if (s.doing === "ready") { say("Ready.", false); }
    if (s.doing === "failed") { say(s.fault + (s.page ? "\nThe page below is the one before." : ""), true); }
    show(s.page);
    document.body.dataset.doing = s.doing;
    document.body.dataset.page = s.page;
  };
  stream.onerror = function () { bar.hidden = true; say("evenbass has ended. Start it again to go on.", true); };

  form.addEventListener("submit", function (e) {
    e.preventDefault();
    var wanted = {};
    form.querySelectorAll("input").forEach(function (i) { wanted[i.name] = Number(i.value); });
    fetch("settings", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(wanted) })
      .then(function (r) { return r.ok ? "" : r.text(); })
      .then(function (fault) { if (fault) { say(fault.trim(), true); } })
      .catch(function () { say("evenbass does not answer.", true); });
  });

  document.getElementById("print").addEventListener("click", function () { frame.contentWindow.print(); });
})();
