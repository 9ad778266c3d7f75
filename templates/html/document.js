// Puts the interactive picture in place of the still one, once it comes into view; a button goes back.
// Its switches are ordinary buttons made from plain data: what a person typed is only ever set as text.
// Without scripts nothing is lost: the still picture stays.
(function () {
  "use strict";
  if (!window.Plotly) return;
  var config = {
    responsive: true, displaylogo: false, displayModeBar: false, scrollZoom: false,
    plotlyServerURL: "", showSendToCloud: false, showEditInChartStudio: false, topojsonURL: ""
  };
  var SVG = "http://www.w3.org/2000/svg";
  function part(id, name) { return document.getElementById(id + "-" + name); }
  var MARKS = {
    circle: "M10 5a4 4 0 1 0 8 0a4 4 0 1 0-8 0Z", square: "M10.5 1.5h7v7h-7Z", diamond: "M14 0l5 5-5 5-5-5Z",
    "triangle-up": "M14 0l5 9H9Z", "triangle-down": "M14 10l5-9H9Z", cross: "M12.3 0h3.4v3.3H19v3.4h-3.3V10h-3.4V6.7H9V3.3h3.3Z",
    x: "M10.5 0L14 3.4 17.5 0 19 1.5 15.6 5 19 8.5 17.5 10 14 6.6 10.5 10 9 8.5 12.4 5 9 1.5Z",
    star: "M14 0l1.4 3.5H19l-2.9 2.2 1.1 3.8L14 7.3l-3.2 2.2 1.1-3.8L9 3.5h3.6Z"
  };
  // a short piece of the line a choice stands for, and its marker
  function sample(choice) {
    var picture = document.createElementNS(SVG, "svg");
    picture.setAttribute("viewBox", "0 0 28 10");
    picture.setAttribute("aria-hidden", "true");
    function path(d, looks) {
      var made = document.createElementNS(SVG, "path");
      made.setAttribute("d", d);
      Object.keys(looks).forEach(function (name) { made.setAttribute(name, looks[name]); });
      picture.appendChild(made);
    }
    var dashes = { solid: "", dash: "7 4", dot: "2 3", dashdot: "7 3 2 3" }[choice.dash];
    if (dashes === undefined) dashes = choice.dash.replace(/px/g, "");
    if (choice.dash) path("M0 5h28", { stroke: choice.color, "stroke-width": "3", "stroke-dasharray": dashes });
    if (MARKS[choice.marker]) path(MARKS[choice.marker], { fill: choice.color });
    return picture;
  }
  function press(button, pressed) { button.setAttribute("aria-pressed", pressed ? "true" : "false"); }
  function choose(place, one, number, buttons) {
    if (one.kind === "each") {
      var now = buttons[number].getAttribute("aria-pressed") !== "true";
      press(buttons[number], now);
      Plotly.restyle(place, { visible: now }, [number]);
      return;
    }
    buttons.forEach(function (button, at) { press(button, at === number); });
    var choice = one.choices[number];
    Plotly.update(place, choice.data || {}, choice.layout || {});
  }
  function switches(id, place, list) {
    list.forEach(function (one, order) {
      var group = document.createElement("div");
      var title = document.createElement("span");
      title.id = id + "-choice-" + order;
      title.textContent = one.title;
      group.setAttribute("role", "group");
      group.setAttribute("aria-labelledby", title.id);
      group.appendChild(title);
      var buttons = one.choices.map(function (choice, number) {
        var button = document.createElement("button");
        button.type = "button";
        if (choice.color) button.appendChild(sample(choice));
        button.appendChild(document.createTextNode(choice.label));
        press(button, one.kind === "each" ? choice.shown : number === one.active);
        group.appendChild(button);
        return button;
      });
      buttons.forEach(function (button, number) {
        button.addEventListener("click", function () { choose(place, one, number, buttons); });
      });
      part(id, "choices").appendChild(group);
    });
  }
  function show(button, live) {
    var id = button.dataset.figure;
    var place = part(id, "live");
    place.hidden = part(id, "choices").hidden = !live;
    part(id, "still").classList.toggle("paper-only", live);
    button.textContent = live ? button.dataset.still : button.dataset.live;
    if (live && !place.dataset.drawn) {
      var spec = JSON.parse(part(id, "data").textContent);
      var layout = spec.layout || {};
      layout.autosize = true;
      delete layout.width;
      if (!layout.height) layout.height = Math.max(320, Math.min(440, place.clientWidth * 0.6));
      place.dataset.drawn = "yes";
      Plotly.newPlot(place, spec.data, layout, config).then(function () {
        switches(id, place, spec.switches || []);
      }).catch(function () { show(button, false); });
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
      show(button, part(button.dataset.figure, "live").hidden);
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
