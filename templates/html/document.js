// Puts the interactive picture in place of the still one, once it comes into view; a button goes back.
// Without scripts nothing is lost: the still picture stays.
(function () {
  "use strict";
  if (!window.Plotly) return;
  var config = {
    responsive: true, displaylogo: false, displayModeBar: false, scrollZoom: false,
    plotlyServerURL: "", showSendToCloud: false, showEditInChartStudio: false, topojsonURL: ""
  };
  function show(button, live) {
    var id = button.dataset.figure;
    var place = document.getElementById(id + "-live");
    var still = document.getElementById(id + "-still");
    place.hidden = !live;
    still.classList.toggle("paper-only", live);
    button.textContent = live ? button.dataset.still : button.dataset.live;
    if (live && !place.dataset.drawn) {
      var spec = JSON.parse(document.getElementById(id + "-data").textContent);
      var layout = spec.layout || {};
      layout.autosize = true;
      delete layout.width;
      if (!layout.height) layout.height = Math.max(320, Math.min(440, place.clientWidth * 0.6));
      place.dataset.drawn = "yes";
      Plotly.newPlot(place, spec.data, layout, config).catch(function () { show(button, false); });
    } else if (live) {
      Plotly.Plots.resize(place);
    }
  }
  var buttons = Array.prototype.slice.call(document.querySelectorAll("button.switch"));
  function start(button) {
    button.hidden = false;
    show(button, true);
  }
  buttons.forEach(function (button) {
    button.addEventListener("click", function () {
      show(button, document.getElementById(button.dataset.figure + "-live").hidden);
    });
  });
  if (!("IntersectionObserver" in window)) return buttons.forEach(start);
  var seen = new IntersectionObserver(function (entries) {
    entries.forEach(function (entry) {
      if (!entry.isIntersecting) return;
      seen.unobserve(entry.target);
      start(entry.target.querySelector("button.switch"));
    });
  }, { rootMargin: "200px" });
  buttons.forEach(function (button) { seen.observe(button.closest("figure")); });
})();
