// What a cell may go on to say: a list under the box, made by the server from what is typed.

const list = document.createElement("ul");
list.id = "offers";
list.setAttribute("role", "listbox");
list.hidden = true;
document.body.append(list);

let box = null;
let asked = 0;
let waiting;
const offers = () => [...list.children];
const chosen = () => list.querySelector('[aria-selected="true"]');

const names = (cell) =>
  cell.matches?.("#desk textarea") &&
  (cell.dataset.side ? ["also", "material"] : ["who", "after", "puts_in", "hides", "looked_at"]).includes(cell.name);

function close() {
  asked += 1;
  clearTimeout(waiting);
  list.hidden = true;
  box?.setAttribute("aria-expanded", "false");
  box?.removeAttribute("aria-activedescendant");
}

async function offer(cell) {
  const mine = (asked += 1);
  const kind = cell.dataset.kind || document.getElementById("new-kind").value;
  const query = new URLSearchParams({ column: cell.name, kind, typed: cell.value, row: cell.dataset.of });
  if (cell.dataset.side) query.set("side", cell.dataset.side);
  const at = document.getElementById("desk").dataset.at;
  const answer = await fetch(`${at}/suggest?${query}`).catch(() => null);
  if (!answer?.ok || mine !== asked || document.activeElement !== cell) return;
  list.innerHTML = await answer.text();
  list.setAttribute("aria-label", cell.getAttribute("aria-label"));
  if (mine !== asked || !list.children.length) return close();
  const { left, bottom, width } = cell.getBoundingClientRect();
  list.hidden = false;
  list.style.insetInlineStart = `${Math.max(4, Math.min(left + scrollX, innerWidth - 290))}px`;
  list.style.insetBlockStart = `${bottom + scrollY + 2}px`;
  list.style.minInlineSize = `${width}px`;
  cell.setAttribute("aria-expanded", "true");
}

function select(item) {
  chosen()?.setAttribute("aria-selected", "false");
  item?.setAttribute("aria-selected", "true");
  item?.scrollIntoView({ block: "nearest" });
  if (item) box.setAttribute("aria-activedescendant", item.id);
  else box.removeAttribute("aria-activedescendant");
}

function take(item) {
  box.value = item.dataset.whole;
  close();
  box.dispatchEvent(new Event("taken", { bubbles: true }));
}

document.addEventListener("focusin", (event) => {
  close();
  box = names(event.target) ? event.target : null;
  if (!box) return;
  box.setAttribute("role", "combobox");
  box.setAttribute("aria-autocomplete", "list");
  box.setAttribute("aria-controls", "offers");
  box.setAttribute("aria-expanded", "false");
});
document.addEventListener("focusout", close);

document.addEventListener("input", (event) => {
  const cell = event.target;
  if (cell !== box) return;
  clearTimeout(waiting);
  waiting = setTimeout(() => offer(cell), 120);
});

// Before the keys of the desk: while the list is open, they are the list's.
document.addEventListener(
  "keydown",
  (event) => {
    if (event.target !== box || event.altKey || event.ctrlKey) return;
    if (list.hidden) {
      if (event.key === "F4") offer(box);
      else return;
      event.preventDefault();
      return;
    }
    const all = offers();
    const at = all.indexOf(chosen());
    if (event.key === "ArrowDown") select(all[(at + 1) % all.length]);
    else if (event.key === "ArrowUp") select(all[at < 0 ? all.length - 1 : at - 1]);
    else if (event.key === "Escape") close();
    else if (event.key === "Enter" && chosen()) take(chosen());
    else {
      if (event.key === "Tab" && chosen()) take(chosen());
      return; // Tab goes on to the next cell
    }
    event.preventDefault();
    event.stopImmediatePropagation();
  },
  true,
);

list.addEventListener("pointerdown", (event) => {
  event.preventDefault(); // the box keeps the focus
  const item = event.target.closest("[role=option]");
  if (item && box) take(item);
});
