// Layers and steps one at a time: buttons, arrow keys, a swipe.
const walks = new Map();
const FAR = 50; // pixels that make a swipe

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function begin(walk) {
  const leaves = [...walk.querySelectorAll(".leaf")];
  if (leaves.length < 2) return;
  const what = walk.dataset.what;
  const back = button("\u25C0\u00A0Back", () => turn(-1));
  const next = button("Next\u00A0\u25B6", () => turn(1));
  const all = button("All", () => one(!walk.classList.contains("one")));
  const where = document.createElement("span");
  where.setAttribute("role", "status");
  const controls = document.createElement("div");
  controls.className = "controls";
  controls.append(back, where, all, next);
  walk.append(controls);
  let now = 0;

  function one(on) {
    walk.classList.toggle("one", on);
    all.setAttribute("aria-pressed", String(!on));
    back.hidden = next.hidden = !on;
  }
  function show(number) {
    now = Math.max(0, Math.min(leaves.length - 1, number));
    leaves.forEach((leaf, index) => leaf.classList.toggle("now", index === now));
    where.textContent = what + " " + (now + 1) + " of " + leaves.length;
    back.setAttribute("aria-disabled", String(now === 0));
    next.setAttribute("aria-disabled", String(now === leaves.length - 1));
  }
  function turn(by) {
    show(now + by);
    if (walk.getBoundingClientRect().top < 0) walk.scrollIntoView();
  }
  let start = null;
  walk.addEventListener("touchstart", (event) => {
    start = event.touches.length === 1 ? event.touches[0] : null;
  }, { passive: true });
  walk.addEventListener("touchend", (event) => {
    if (!start || !walk.classList.contains("one")) return;
    const across = event.changedTouches[0].clientX - start.clientX;
    const down = event.changedTouches[0].clientY - start.clientY;
    if (Math.abs(across) > FAR && Math.abs(across) > 2 * Math.abs(down)) turn(across < 0 ? 1 : -1);
  }, { passive: true });

  walks.set(walk, { show, turn, leaves });
  const open = leaves.findIndex((leaf) => leaf.querySelector(".tick:not(:checked)"));
  show(Math.max(0, open));
  one(true);
}

// The walk in which the focus is, or else the one in the middle of the screen.
function current() {
  const within = document.activeElement && document.activeElement.closest(".walk");
  if (within) return walks.get(within);
  for (const [walk, own] of walks) {
    const place = walk.getBoundingClientRect();
    if (place.top < innerHeight / 2 && place.bottom > innerHeight / 2) return own;
  }
  return null;
}

function toHash() {
  const leaf = document.getElementById(decodeURIComponent(location.hash.slice(1)))
    || document.getElementById(location.hash.slice(1));
  const own = leaf && walks.get(leaf.closest(".walk"));
  if (!own) return;
  own.show(own.leaves.indexOf(leaf));
  leaf.scrollIntoView();
}

document.querySelectorAll(".walk").forEach(begin);
addEventListener("hashchange", toHash);
toHash();
document.addEventListener("keydown", (event) => {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  const busy = event.target.closest("input[type=search], input[type=range], dialog");
  if (!by || busy || event.altKey || event.ctrlKey || event.metaKey) return;
  const own = current();
  if (own) {
    own.turn(by);
    event.preventDefault();
  }
});
