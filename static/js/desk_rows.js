// The keys of the desk: from cell to cell, rows up and down the list, the new row where it goes.

import { $, desk, dirty, giveUp, inForm, isSending, put, wasOf } from "./desk.js";

const rowOf = (box) => box.closest("tr[data-row]");

document.addEventListener("desk:new", ({ detail: { added, behind } }) => {
  if (added) afterAdding(behind);
  else if (behind) under($(behind), false);
});

function afterAdding(behind) {
  const added = behind ? $(behind)?.nextElementSibling : null;
  if (added && added.id !== "new") under(added, false);
  $("i-new-who").focus();
}

export function under(row, focus = true) {
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
  if (row.id === "new" || isSending()) return;
  const values = { key: row.querySelector('[name="key"]').value, [up ? "up" : "down"]: "yes" };
  const address = desk().dataset.at.replace(/desk$/, `${row.dataset.row}/order`);
  htmx.ajax("POST", address, { source: row, target: "#desk", swap: "outerHTML", values });
}
