// The drawing on the desk: a pressed layer goes into a cell, a layer being typed is drawn.

import { $, desk, put } from "./desk.js";
import { under } from "./desk_rows.js";

let lastCell = null; // where a pressed layer goes
let waiting; // for the next letter, before a layer is drawn

document.addEventListener("htmx:beforeSwap", () => clearTimeout(waiting));

document.addEventListener("focusin", (event) => {
  if (event.target.matches?.('#desk tr textarea')) lastCell = event.target.id;
  desk()?.classList.toggle("naming", namesLayers(event.target));
});
const namesLayers = (box) => ["puts_in", "hides"].includes(box?.name);

// A press on a layer must not take the focus from the cell it goes into.
document.addEventListener("pointerdown", (event) => {
  if (event.target.closest?.("#desk .bu-press") && namesLayers(document.activeElement)) event.preventDefault();
});

document.addEventListener("click", (event) => {
  const layer = event.target.closest?.("#desk .bu-press");
  const cell = lastCell && $(lastCell);
  if (layer && namesLayers(cell)) {
    toggle(cell, $(`layer-${layer.dataset.layer}`).dataset.called);
    cell.focus();
    put(cell);
    return;
  }
  const check = event.target.closest?.("#desk [data-check]");
  if (check) {
    event.preventDefault();
    checkOver(check.dataset.check);
  }
});

function toggle(cell, name) {
  const plain = name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const said = new RegExp(`(^|[;,\\n])\\s*${plain}(\\s*\\([^()]*\\))?\\s*(?=$|[;,\\n])`);
  if (said.test(cell.value)) cell.value = cell.value.replace(said, "").replace(/^[;,\s]+/, "");
  else cell.value = cell.value.trim() ? `${cell.value.trim()}, ${name}` : name;
}

function checkOver(layer) {
  const rows = [...desk().querySelectorAll("tr[data-row]:not(#new)")];
  const puts = rows.filter((row) => row.querySelector('[name="puts_in"]')?.value.includes(layer));
  if (puts.length) under(puts.at(-1), false);
  $("new-kind").value = "hold";
  $("i-new-puts_in").value = layer;
  $("i-new-does").focus();
}

document.addEventListener("input", (event) => {
  const line = event.target.closest?.("#desk .layer.new");
  if (!line) return;
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    const side = line.closest(".side").dataset.side;
    const values = { side_id: side };
    for (const box of line.querySelectorAll("textarea")) values[box.name] = box.value;
    htmx.ajax("GET", `${desk().dataset.at}/drawn`, { target: `#drawn-${side}`, swap: "innerHTML", values });
  }, 250);
});
