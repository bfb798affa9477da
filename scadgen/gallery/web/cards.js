// Filters the cards of all forms.
import { $ } from "./dom.js";

export function filterCards() {
  const cards = [...document.querySelectorAll(".card")];
  const filters = [...document.querySelectorAll("#filters select")];

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
}
