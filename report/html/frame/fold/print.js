// Opens what is folded while the page is printed with its appendix, where the browser's own
// style rules cannot, and folds it again afterwards.
(function () {
  "use strict";
  var opened = [];
  window.addEventListener("beforeprint", function () {
    var wanted = document.getElementById("with-appendix");
    if (!wanted || !wanted.checked) { return; }
    opened = Array.prototype.slice.call(document.querySelectorAll("details.fold:not([open])"));
    opened.forEach(function (d) { d.open = true; });
  });
  window.addEventListener("afterprint", function () {
    opened.forEach(function (d) { d.open = false; });
    opened = [];
  });
})();
