// Ticks are kept on the device, apart for every plan.
const prefix = "packdown:" + document.body.dataset.plan + ":";

function remember(key, on) {
  try {
    if (on) localStorage.setItem(prefix + key, "1");
    else localStorage.removeItem(prefix + key);
  } catch { /* ticks still work until the page is closed */ }
}

function known(key) {
  try { return localStorage.getItem(prefix + key) === "1"; } catch { return false; }
}

function countDone() {
  for (const place of document.querySelectorAll("[data-of]")) {
    const ticks = document.getElementById(place.dataset.of).querySelectorAll(".tick");
    const done = [...ticks].filter((tick) => tick.checked).length;
    place.textContent = done ? done + " of " + ticks.length + " ticked" : "";
  }
}

for (const tick of document.querySelectorAll(".tick")) {
  tick.checked = known(tick.dataset.key);
  tick.addEventListener("change", () => {
    remember(tick.dataset.key, tick.checked);
    countDone();
  });
}
addEventListener("storage", (event) => {
  for (const tick of document.querySelectorAll(".tick")) {
    if (prefix + tick.dataset.key === event.key) tick.checked = event.newValue === "1";
  }
  countDone();
});
countDone();
