// The plan typed in place. Every answer brings the whole desk; what is being typed stays in its box.

const $ = (id) => document.getElementById(id);
const desk = () => $("desk");
const boxes = () => [...desk().querySelectorAll("[data-saved]")];
const dirty = (box) => box.value !== box.dataset.saved;
const inForm = (box) => box.form?.classList.contains("adds"); // new rows, layers, sides: sent whole
const wasOf = (box) => box.form?.elements[`was_${box.name}`];
const rowOf = (box) => box.closest("tr[data-row]");

let sending = null; // one change at a time, so that none is shown without those before it
let changes = 0; // how many have been sent, and how many had been when the desk was asked for
let askedAfter = 0;
let sent = new Map(); // box id -> what was in it when it was sent
let typed = null; // what stood in the boxes before an answer came in
let lastCell = null; // where a pressed layer goes
let waiting; // for the next letter, before a layer is drawn
document.documentElement.classList.add("js");

// -- sending ---------------------------------------------------------------------------------

function put(box) {
  const plain = !inForm(box) && dirty(box) && box.value !== box.dataset.refused;
  if (plain && !sending && box.isConnected) htmx.trigger(box, "put");
}

function putTheRest() {
  for (const box of boxes()) if (box !== document.activeElement) put(box);
}

document.addEventListener("focusout", (event) => {
  const box = event.target;
  if (box.matches?.("#desk textarea[data-saved]")) setTimeout(() => box.isConnected && put(box));
});

document.addEventListener("htmx:configRequest", (event) => {
  const box = event.detail.elt;
  if (!box.matches("textarea[data-saved]")) return;
  const wanted = new Set([box.name, `was_${box.name}`, "key"]);
  for (const name of [...event.detail.formData.keys()]) {
    if (!wanted.has(name)) event.detail.formData.delete(name);
  }
});

document.addEventListener("htmx:beforeRequest", (event) => {
  const { elt, xhr, requestConfig } = event.detail;
  if (elt.id === "since") {
    if (sending) event.preventDefault();
    askedAfter = changes;
  }
  if (requestConfig.verb !== "post" || !desk().contains(elt)) return;
  sending = xhr;
  changes += 1;
  const mine = elt.matches("form") ? boxes().filter((box) => box.form === elt) : [elt];
  sent = new Map(mine.filter((box) => box.dataset.saved !== undefined).map((box) => [box.id, box.value]));
});

document.addEventListener("htmx:afterRequest", (event) => {
  const { elt, xhr, failed } = event.detail;
  if (xhr !== sending) return;
  sending = null;
  sent = new Map();
  if (failed && xhr.status !== 422) unsent(elt);
  else setTimeout(putTheRest);
});

function unsent(elt) {
  const box = elt.matches("[data-saved]") ? elt : elt.querySelector?.("[data-saved]") ?? document.activeElement;
  const said = desk().dataset.unsent;
  if (!box?.closest(".cell") || box.closest(".cell").querySelector(".err")) return;
  box.insertAdjacentHTML("afterend", `<p class="err" role="alert"></p>`);
  box.nextElementSibling.textContent = said;
}
window.addEventListener("online", putTheRest);

// -- what is typed stays -----------------------------------------------------------------------

document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target !== desk()) return;
  // An older desk does not come in after the answer to a change.
  if (event.detail.elt.id === "since" && askedAfter !== changes) event.detail.shouldSwap = false;
  if (!event.detail.shouldSwap) return;
  clearTimeout(waiting);
  const active = document.activeElement;
  typed = boxes()
    .filter((box) => dirty(box) && sent.get(box.id) !== box.value)
    .map((box) => ({
      id: box.id,
      value: box.value,
      saved: box.dataset.saved,
      was: sent.has(box.id) ? null : wasOf(box)?.value,
      refused: box.dataset.refused,
      wrong: [...(box.closest(".cell")?.querySelectorAll(".err") ?? [])],
      caret: box === active && box.setSelectionRange ? [box.selectionStart, box.selectionEnd] : null,
    }));
  typed.behind = $("new-behind")?.value;
  typed.added = sent.has("i-new-does") && event.detail.xhr.status === 200;
  typed.layer = [...sent.keys()].find((id) => /^l-new-.*-name$/.test(id)) ?? (sent.has("side") ? "side" : null);
  typed.ok = event.detail.xhr.status === 200;
  typed.scrolled = desk().querySelector(".bench > section").scrollTop;
});

document.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target.id !== "desk" || !typed) return;
  const kept = typed;
  typed = null;
  for (const item of kept) restore(item);
  desk().querySelector(".bench > section").scrollTop = kept.scrolled;
  if (kept.added) afterAdding(kept.behind);
  else if (kept.behind) under($(kept.behind), false);
  if (kept.ok && kept.layer) $(kept.layer)?.focus();
});

function restore({ id, value, saved, was, refused, wrong, caret }) {
  const box = $(id);
  if (!box || value === box.dataset.saved) return;
  const changed = saved !== box.dataset.saved && was !== null;
  box.value = value;
  if (changed && wasOf(box)) wasOf(box).value = was; // they saw the older text: the server will tell
  if (refused !== undefined && box.dataset.refused === undefined) {
    box.dataset.refused = refused;
    box.setAttribute("aria-invalid", "true");
    box.after(...wrong);
  }
  if (caret && box === document.activeElement) box.setSelectionRange(...caret);
}

function giveUp(box) {
  box.value = box.dataset.saved;
  delete box.dataset.refused;
  box.removeAttribute("aria-invalid");
  if (wasOf(box)) wasOf(box).value = box.dataset.saved;
  for (const said of box.closest(".cell")?.querySelectorAll(".err") ?? []) said.remove();
}

// -- rows --------------------------------------------------------------------------------------

function afterAdding(behind) {
  const added = behind ? $(behind)?.nextElementSibling : null;
  if (added && added.id !== "new") under(added, false);
  $("i-new-who").focus();
}

function under(row, focus = true) {
  if (!row || row.id === "new") return;
  const active = document.activeElement;
  const caret = [active.selectionStart, active.selectionEnd];
  row.after($("new"));
  if (active !== document.activeElement) {
    active.focus(); // a row that moves loses it
    active.setSelectionRange?.(...caret);
  }
  $("new-behind").value = row.dataset.row;
  const after = $("i-new-after");
  if (!dirty(after)) after.value = after.dataset.saved = row.dataset.called;
  if (focus) $("i-new-who").focus();
}

function beside(box, step) {
  const rows = [...desk().querySelectorAll("tr[data-row]")];
  for (let at = rows.indexOf(rowOf(box)) + step; rows[at]; at += step) {
    const other = rows[at].querySelector(`[name="${box.name}"]`);
    if (other) return other;
  }
  return null;
}

function go(box) {
  if (!box) return;
  box.focus();
  box.select?.();
}

// A cell that the Tab key comes to is typed over; End adds to it.
let tabbed = false;
document.addEventListener("keydown", (event) => (tabbed = event.key === "Tab"), true);
document.addEventListener("focusin", ({ target }) => {
  if (tabbed && target.matches?.("#desk [data-saved]")) target.select?.();
  tabbed = false;
});

const press = (id) => $(id)?.querySelector("button:not([disabled])")?.click();

document.addEventListener("keydown", (event) => {
  const box = event.target;
  if (event.defaultPrevented || !desk()) return;
  const key = event.key;
  if ((event.ctrlKey || event.metaKey) && ["z", "y"].includes(key.toLowerCase())) {
    if (box.dataset?.saved !== undefined && dirty(box)) return; // the box undoes its own typing
    event.preventDefault();
    press(key.toLowerCase() === "y" || event.shiftKey ? "redo" : "undo");
    return;
  }
  if (!box.matches?.("#desk [data-saved]")) return;
  const up = key === "ArrowUp";
  if (key === "Escape") giveUp(box);
  else if (key === "End" && !event.shiftKey && box.tagName === "TEXTAREA") {
    box.setSelectionRange(box.value.length, box.value.length); // of the cell, not of a line in it
  }
  else if (event.altKey && (up || key === "ArrowDown") && rowOf(box)) move(box, up);
  else if (key === "Enter" && event.ctrlKey && rowOf(box)) under(rowOf(box));
  else if (key === "Enter" && !event.shiftKey && box.tagName !== "SELECT") {
    if (inForm(box)) box.form.requestSubmit();
    else {
      delete box.dataset.refused; // pressed again on purpose
      if (wasOf(box) && box.hasAttribute("aria-invalid")) wasOf(box).value = box.dataset.saved;
      if (dirty(box)) put(box);
      else go(beside(box, 1));
    }
  } else if ((up || key === "ArrowDown") && !event.altKey && box.tagName === "TEXTAREA" && rowOf(box)) {
    go(beside(box, up ? -1 : 1));
  } else return;
  event.preventDefault();
});

function move(box, up) {
  const row = rowOf(box);
  if (row.id === "new" || sending) return;
  const values = { key: row.querySelector('[name="key"]').value, [up ? "up" : "down"]: "yes" };
  const address = desk().dataset.at.replace(/desk$/, `${row.dataset.row}/order`);
  htmx.ajax("POST", address, { source: row, target: "#desk", swap: "outerHTML", values });
}

// -- the drawing -------------------------------------------------------------------------------

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
