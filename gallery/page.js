// Filters the cards of the gallery and opens the viewer. Plain files, nothing is fetched: scripts
// are loaded by their tags, so that the page works from a disk too.
"use strict";

const models = {};
function scadgenModel(name, packed) {
  models[name] = Uint8Array.from(atob(packed), (c) => c.charCodeAt(0)).buffer;
}

(() => {
  const $ = (id) => document.getElementById(id);
  const cards = [...document.querySelectorAll(".card")];
  const filters = [...document.querySelectorAll("#filters select")];
  const dialog = $("viewer");
  const stage = $("stage");
  const slider = $("angle");
  let viewer = null;

  document.documentElement.classList.add("scripted");

  function filter() {
    for (const card of cards) {
      const lacks = (by) => by.value && !card.dataset[by.name].split(" ").includes(by.value);
      card.hidden = filters.some(lacks);
    }
    const shown = cards.filter((card) => !card.hidden).length;
    $("count").textContent = `${shown} of ${cards.length} hinges shown.`;
    $("none").hidden = shown > 0;
  }
  filters.forEach((by) => by.addEventListener("change", filter));
  $("filters").addEventListener("reset", () => setTimeout(filter));
  filter();

  const loaded = {};
  function load(path) {
    loaded[path] ??= new Promise((done, failed) => {
      const script = document.createElement("script");
      script.src = path;
      script.onload = done;
      script.onerror = () => failed(new Error(`${path} cannot be loaded`));
      document.head.append(script);
    });
    return loaded[path];
  }

  async function open(card) {
    const { name } = card.dataset;
    dialog.dataset.name = name;
    delete dialog.dataset.ready;
    $("viewer-title").textContent = card.querySelector("h2").textContent;
    $("controls").hidden = false;
    say("Loading the model.");
    showStills(card);
    dialog.showModal();
    try {
      await load("viewer.js");
      viewer ??= window.scadgenViewer($("canvas"));
    } catch {
      withoutModel("This browser shows no 3D here (WebGL is missing or turned off): see the stills.");
      return;
    }
    try {
      await load(`models/${name}.js`);
      if (dialog.dataset.name !== name || !dialog.open) return;
      stage.dataset.shows = "model"; // before the model is fitted to the size of its canvas
      viewer.resize();
      await viewer.show(models[name].slice(0));
    } catch (error) {
      withoutModel(`The model cannot be shown: ${error.message}.`);
      return;
    }
    const { low, high, step } = viewer.range;
    Object.assign(slider, { min: low, max: high, step });
    slider.value = 0;
    $("cut").checked = false;
    turn();
    dialog.dataset.ready = "yes";
  }

  function showStills(card) {
    stage.dataset.shows = "stills";
    $("stills").replaceChildren(
      ...[...card.querySelectorAll("a.picture")].map((link) => {
        const figure = document.createElement("figure");
        const picture = new Image();
        picture.src = link.href;
        picture.alt = link.querySelector("img").alt;
        const words = document.createElement("figcaption");
        words.textContent = link.dataset.shows;
        figure.append(picture, words);
        return figure;
      }),
    );
  }

  function withoutModel(why) {
    stage.dataset.shows = "stills";
    $("controls").hidden = true;
    $("close").focus();
    say(why);
  }

  function say(words) {
    $("viewer-note").textContent = words;
  }

  function turn() {
    viewer.angle = Number(slider.value);
    const position = Math.round(viewer.angle * 10) / 10;
    const { unit } = viewer.facts; // none: degrees
    const words = `${String(position).replace("-", "\u2212")}${unit ? ` ${unit}` : "\u00b0"}`;
    $("angle-label").textContent = unit ? "Position" : "Opening angle";
    $("angle-value").textContent = words;
    slider.setAttribute("aria-valuetext", `${position} ${unit ?? "degrees"}`);
    dialog.dataset.angle = position;
    dialog.dataset.cut = viewer.cut;
    const moved = `${unit ? "Moved" : "Opened"} by ${words}`;
    const how = position === 0 ? "As it prints, on a bed with squares of 10 mm" : moved;
    say(viewer.cut ? `${how}; cut in half.` : `${how}.`);
  }

  document.querySelectorAll("button.turn").forEach((button) =>
    button.addEventListener("click", () => open(button.closest(".card"))),
  );
  slider.addEventListener("input", turn);
  $("cut").addEventListener("change", () => {
    viewer.cut = $("cut").checked;
    viewer.look(viewer.cut ? "cut" : "printed");
    turn();
  });
  $("as-printed").addEventListener("click", () => {
    slider.value = 0;
    $("cut").checked = viewer.cut = false;
    viewer.look("printed");
    turn();
  });
  $("close").addEventListener("click", () => dialog.close());
  dialog.addEventListener("click", (event) => {
    if (event.target === dialog) dialog.close(); // beside what it shows
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    if (dialog.dataset.ready) viewer.paint();
  });
})();
