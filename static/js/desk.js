// The plan typed in place. Every answer brings the whole desk; what is being typed stays in its box.

export const $ = (id) => document.getElementById(id);
export const desk = () => $("desk");
const boxes = () => [...desk().querySelectorAll("[data-saved]")];
export const dirty = (box) => box.value !== box.dataset.saved;
export const inForm = (box) => box.form?.classList.contains("adds"); // new rows, layers, sides: sent whole
export const wasOf = (box) => box.form?.elements[`was_${box.name}`];

let sending = null; // one change at a time, so that none is shown without those before it
let changes = 0; // how many have been sent, and how many had been when the desk was asked for
let askedAfter = 0;
let sent = new Map(); // box id -> what was in it when it was sent
let typed = null; // what stood in the boxes before an answer came in
document.documentElement.classList.add("js");

// -- sending ---------------------------------------------------------------------------------

export const isSending = () => sending !== null;

export function put(box) {
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
  document.dispatchEvent(new CustomEvent("desk:new", { detail: kept }));
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

export function giveUp(box) {
  box.value = box.dataset.saved;
  delete box.dataset.refused;
  box.removeAttribute("aria-invalid");
  if (wasOf(box)) wasOf(box).value = box.dataset.saved;
  for (const said of box.closest(".cell")?.querySelectorAll(".err") ?? []) said.remove();
}
