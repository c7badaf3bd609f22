// The search: what of the list of every piece has all the words.
const MOST = 30;
const field = document.getElementById("find");
const hits = document.getElementById("hits");
const found = document.getElementById("found");
const plain = (text) => text.toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");
const rows = [...document.querySelectorAll(".index > li")].map((row) => {
  const said = [...row.querySelectorAll("b, em, a, small")].map((part) => part.textContent);
  return { row, text: plain(said.join(" ")) };
});

function look() {
  const words = plain(field.value).split(/\s+/).filter(Boolean);
  const good = words.length ? rows.filter(({ text }) => words.every((w) => text.includes(w))) : [];
  const list = document.createElement("ul");
  list.append(...good.slice(0, MOST).map(({ row }) => row.cloneNode(true)));
  if (good.length > MOST) {
    const more = document.createElement("li");
    more.textContent = good.length - MOST + " more: add a word";
    list.append(more);
  }
  hits.replaceChildren(...(good.length ? [list] : []));
  hits.hidden = !good.length;
  found.textContent = words.length ? (good.length || "none") + " found" : "";
}

function leave() {
  field.value = "";
  look();
}

field.closest(".find").hidden = false;
field.addEventListener("input", look);
field.addEventListener("keydown", (event) => {
  if (event.key === "Escape") leave();
  const first = hits.querySelector("a");
  if (event.key === "Enter" && first) first.click();
});
hits.addEventListener("click", (event) => {
  if (event.target.closest("a")) leave();
});
