// Containers and builds in 3D. Library and solids are unpacked when they are first asked for.
const dialog = document.getElementById("turning");
const sheet = document.getElementById("turning-sheet");
const slider = document.getElementById("turning-number");
const note = document.getElementById("turning-note");
const LOOKS = { strong: [0xfffdf5, 0x1c2b2a], pale: [0xe2ddd2, 0xa39b8b] };
let view = null;
let solids = null;

async function unpack(id) {
  const bytes = Uint8Array.from(atob(document.getElementById(id).textContent), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).text();
}

async function load() {
  if (solids) return;
  const script = document.createElement("script");
  script.textContent = await unpack("turning-library");
  document.head.append(script);
  view = stand();
  solids = JSON.parse(await unpack("turning-solids"));
}

// The eye: how far it is turned and raised, and how near it is. What is shown has a middle; half of
// its diagonal in plan, and half of what it takes up from below to above as it is first seen.
function stand() {
  const renderer = new THREE.WebGLRenderer({ canvas: sheet, antialias: true });
  renderer.setClearColor(0xfffdf8);
  const scene = new THREE.Scene();
  const lamp = new THREE.DirectionalLight(0xffffff, 0.55);
  scene.add(new THREE.AmbientLight(0xffffff, 0.6), lamp);
  const camera = new THREE.PerspectiveCamera(32, 1, 1, 1e6);
  camera.up.set(0, 0, 1);
  return { renderer, scene, lamp, camera, things: [], turn: -0.5, rise: 0.65, far: 1, across: 1, tall: 1, middle: [0, 0, 0] };
}

function render() {
  const { renderer, scene, lamp, camera, turn, rise, far, across, tall, middle } = view;
  const { clientWidth: wide, clientHeight: high } = sheet;
  if (!wide || !high) return;
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  renderer.setSize(wide, high, false);
  camera.aspect = wide / high;
  const away = far * (3.8 * Math.max(tall, (across * high) / wide) + 0.3 * across);
  camera.position.set(
    middle[0] + away * Math.cos(rise) * Math.sin(turn),
    middle[1] - away * Math.cos(rise) * Math.cos(turn),
    middle[2] + away * Math.sin(rise),
  );
  camera.lookAt(...middle);
  camera.updateProjectionMatrix();
  lamp.position.set(camera.position.x, camera.position.y, camera.position.z + away / 2);
  lamp.target.position.set(...middle);
  lamp.target.updateMatrixWorld();
  renderer.render(scene, camera);
}

const RING = [[0, 0], [1, 0], [1, 1], [0, 0], [1, 1], [0, 1]];

function faces(cuboids) {
  const places = [];
  const normals = [];
  for (let at = 0; at < cuboids.length; at += 6) {
    for (const axis of [0, 1, 2]) {
      for (const high of [0, 1]) {
        for (const pair of high ? RING : [...RING].reverse()) {
          const point = [0, 0, 0];
          point[axis] = cuboids[at + axis + 3 * high];
          pair.forEach((end, n) => {
            const other = (axis + 1 + n) % 3;
            point[other] = cuboids[at + other + 3 * end];
          });
          places.push(...point);
          normals.push(...[0, 1, 2].map((a) => (a === axis ? 2 * high - 1 : 0)));
        }
      }
    }
  }
  const made = new THREE.BufferGeometry();
  made.setAttribute("position", new THREE.Float32BufferAttribute(places, 3));
  made.setAttribute("normal", new THREE.Float32BufferAttribute(normals, 3));
  return made;
}

function lines(ends, colour) {
  const made = new THREE.BufferGeometry();
  made.setAttribute("position", new THREE.Float32BufferAttribute(ends, 3));
  return new THREE.LineSegments(made, new THREE.LineBasicMaterial({ color: colour }));
}

function thing([group, cuboids, ends]) {
  const material = new THREE.MeshLambertMaterial({
    polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
  });
  const made = new THREE.Mesh(faces(cuboids), material);
  made.add(lines(ends, 0));
  made.userData.group = group;
  return made;
}

function look(made, name) {
  made.visible = Boolean(name);
  if (!name) return;
  made.material.color.setHex(LOOKS[name][0]);
  made.children[0].material.color.setHex(LOOKS[name][1]);
}

function frame(size) {
  const ends = [];
  for (const axis of [0, 1, 2]) {
    for (const pair of [[0, 0], [0, 1], [1, 0], [1, 1]]) {
      for (const end of [0, 1]) {
        const point = [0, 0, 0];
        point[axis] = end * size[axis];
        pair.forEach((far, n) => { point[(axis + 1 + n) % 3] = far * size[(axis + 1 + n) % 3]; });
        ends.push(...point);
      }
    }
  }
  return lines(ends, 0x8d8676);
}

function put(what) {
  for (const old of view.things) {
    view.scene.remove(old);
    old.traverse((part) => { part.geometry.dispose(); part.material.dispose(); });
  }
  view.things = what.items.map(thing);
  if (what.size) view.things.push(frame(what.size));
  view.scene.add(...view.things);
  const box = new THREE.Box3();
  view.things.forEach((made) => box.expandByObject(made));
  view.middle = box.getCenter(new THREE.Vector3()).toArray();
  const size = box.getSize(new THREE.Vector3());
  view.far = 1;
  view.across = Math.hypot(size.x, size.y) / 2;
  view.tall = 0.61 * view.across + 0.4 * size.z;
}

// What a number on the slider shows: layers up to it, or one stage of rebuilding.
function choose(kind, what, number) {
  const items = view.things.slice(0, what.items.length);
  items.forEach((made) => made.position.set(0, 0, 0));
  const stage = (what.stages || [])[number - 1];
  if (kind === "container") {
    items.forEach((made) => {
      const layer = made.userData.group;
      look(made, layer > number ? "" : layer === number ? "strong" : "pale");
    });
  } else if (stage) {
    items.forEach((made, index) => {
      const moves = stage[0].includes(index);
      look(made, moves ? "strong" : stage[1].includes(index) ? "pale" : "");
      if (moves) made.position.set(...stage[2]);
    });
  } else {
    items.forEach((made) => look(made, "strong"));
  }
  render();
}

async function open({ turn: kind, id }, name) {
  document.getElementById("turning-h").textContent = name;
  note.textContent = "Unpacking\u2026";
  dialog.showModal();
  try {
    await load();
  } catch {
    note.textContent = "This browser cannot draw in 3D. The pictures of the book show the same.";
    return;
  }
  const what = solids[kind + "s"][id];
  const most = kind === "container" ? Math.max(...what.items.map(([layer]) => layer)) : what.stages.length + 1;
  put(what);
  slider.max = most;
  slider.value = most;
  slider.closest("label").hidden = most < 2;
  slider.oninput = () => {
    const number = Number(slider.value);
    const whole = kind === "build" && number === most;
    const words = kind === "container" ? "Layer " + number + " of " + most
      : whole ? "Whole" : "Rebuilding " + number + " of " + (most - 1);
    document.getElementById("turning-where").textContent = words;
    slider.setAttribute("aria-valuetext", words);
    choose(kind, what, number);
  };
  slider.oninput();
  note.textContent = "";
  sheet.focus();
}

function swing(across, up) {
  view.turn -= across;
  view.rise = Math.max(-1.5, Math.min(1.5, view.rise + up));
  render();
}

function near(by) {
  view.far *= by;
  render();
}

const fingers = new Map();
const apart = () => {
  const [a, b] = [...fingers.values()];
  return Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
};
sheet.addEventListener("pointerdown", (event) => {
  fingers.set(event.pointerId, event);
  sheet.setPointerCapture(event.pointerId);
});
sheet.addEventListener("pointermove", (event) => {
  const before = fingers.get(event.pointerId);
  if (!before || !view) return;
  if (fingers.size === 2) {
    const was = apart();
    fingers.set(event.pointerId, event);
    near(was / Math.max(1, apart()));
    return;
  }
  fingers.set(event.pointerId, event);
  swing((event.clientX - before.clientX) / 150, (event.clientY - before.clientY) / 150);
});
for (const end of ["pointerup", "pointercancel"]) {
  sheet.addEventListener(end, (event) => fingers.delete(event.pointerId));
}
sheet.addEventListener("wheel", (event) => {
  event.preventDefault();
  if (view) near(event.deltaY > 0 ? 1.1 : 1 / 1.1);
}, { passive: false });
sheet.addEventListener("keydown", (event) => {
  const way = { ArrowLeft: [0.15, 0], ArrowRight: [-0.15, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] }[event.key];
  const by = { "+": 1 / 1.15, "=": 1 / 1.15, "-": 1.15 }[event.key];
  if (!view || !(way || by)) return;
  event.preventDefault();
  if (way) swing(...way);
  else near(by);
});
new ResizeObserver(() => view && dialog.open && render()).observe(sheet);
document.getElementById("turning-close").addEventListener("click", () => dialog.close());
for (const asked of document.querySelectorAll("[data-turn]")) {
  asked.closest(".turn").hidden = false;
  asked.addEventListener("click", () => open(asked.dataset, asked.closest("section").querySelector("h2").textContent));
}
