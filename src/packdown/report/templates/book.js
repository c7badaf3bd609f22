"use strict";
(() => {
  const prefix = "packdown:" + document.body.dataset.plan + ":";
  const remember = (key, on) => {
    try {
      if (on) localStorage.setItem(prefix + key, "1");
      else localStorage.removeItem(prefix + key);
    } catch { /* ticks still work until the page is closed */ }
  };
  const known = (key) => {
    try { return localStorage.getItem(prefix + key) === "1"; } catch { return false; }
  };
  for (const box of document.querySelectorAll(".tick")) {
    box.checked = known(box.dataset.key);
    box.addEventListener("change", () => remember(box.dataset.key, box.checked));
  }
  const filter = document.getElementById("filter");
  const found = document.getElementById("found");
  const rows = [...document.querySelectorAll(".index li")];
  filter.closest("p").hidden = false;
  filter.addEventListener("input", () => {
    const words = filter.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const row of rows) {
      const text = row.textContent.toLowerCase();
      row.hidden = !words.every((word) => text.includes(word));
      shown += row.hidden ? 0 : 1;
    }
    found.textContent = words.length ? shown + " of " + rows.length : "";
  });
})();
