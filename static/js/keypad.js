// The keys of sixteenths stand under the box that is being typed in, and add to it.

const isNumber = (box) => box instanceof HTMLInputElement && box.inputMode === "decimal";
let current = null;

document.addEventListener("focusin", (event) => {
  const box = event.target;
  if (!isNumber(box)) return;
  const keys = box.closest("[data-keypad]")?.querySelector(".keys");
  if (!keys) return;
  current = box;
  box.closest(".m").after(keys);
  keys.hidden = false;
});

// A press on a key must not take the focus from the box, or a phone folds its own keyboard.
document.addEventListener("pointerdown", (event) => {
  if (event.target.closest?.(".keys")) event.preventDefault();
});

document.addEventListener("click", (event) => {
  const key = event.target.closest?.(".keys [data-add]");
  if (!key || !current?.isConnected) return;
  const whole = current.value.trim().replace(/\s*\d+\/\d+$/, "");
  current.value = key.dataset.add ? `${whole} ${key.dataset.add}`.trim() : "";
  current.dispatchEvent(new Event("input", { bubbles: true }));
  current.focus();
});
