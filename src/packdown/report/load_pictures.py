"""A loaded vehicle in perspective: whole, and step by step."""

from packdown.geometry import Cuboid
from packdown.model import Loading
from packdown.model.loading import placed_cuboid
from packdown.report.inside import numbered
from packdown.report.labels import Label
from packdown.report.painting import Look, Painting
from packdown.report.projection import Camera, faces_away
from packdown.report.scene import Thing, corners
from packdown.report.svg import Sheet, figure, outline, path, text

__all__ = ["load_picture", "load_step_pictures"]

NEW, OLD, TAKEN = Look("n", "nl"), Look("o", "ol"), Look("q0", "e")
ELEVATION = 32


def load_picture(loading: Loading) -> str:
    """Draw the loaded vehicle, seen over the tailgate: numbers are the order of loading."""
    return _Vehicle(loading).drawn(len(loading.loaded), whole=True)


def load_step_pictures(loading: Loading) -> tuple[str, ...]:
    """Draw the vehicle after each container; the new one is strong."""
    vehicle = _Vehicle(loading)
    return tuple(vehicle.drawn(number) for number in range(1, len(loading.loaded) + 1))


class _Vehicle:
    """The room, what is taken away from it, and the containers, in painting order."""

    def __init__(self, loading: Loading) -> None:
        self.loading = loading
        cargo = {one.id: one for one in loading.cargo}
        self.box = Cuboid(0, 0, 0, *loading.space.size_um)
        self.camera = Camera.looking_at(self.box, azimuth=-18.0, elevation=ELEVATION)
        self.sheet = Sheet.around(self.camera.project(list(corners(self.box))).tolist())
        boxes = [placed_cuboid(cargo[p.container], p) for p in loading.loaded]
        things = [Thing((box,), number, 0) for number, box in enumerate(boxes, 1)]
        low = [cut for cut in loading.space.blocked_um if cut.z0 == 0]
        things += [Thing((cut,), len(boxes) + 1 + n, 0) for n, cut in enumerate(low)]
        self.taken = range(len(boxes), len(things))
        self.painting = Painting("v-", things, self.camera, self.sheet)

    def drawn(self, count: int, *, whole: bool = False) -> str:
        """Draw the first so many containers; the last one strong, or all where whole."""
        shown = {n: NEW if whole or n == count - 1 else OLD for n in range(count)}
        numbers = range(1, count + 1) if whole else [count]
        looks = {**shown, **dict.fromkeys(self.taken, TAKEN)}
        back = "".join(
            path(
                "w" + "sft"[face.side.axis],
                outline(self.sheet.spots(self.camera.project(face.corners))),
            )
            for face in faces_away(self.box, self.camera.eye)
        )
        words = numbered(self.painting, shown, {n: str(n) for n in numbers})
        name = self.loading.space.name
        title = f"{name} with all that is loaded" if whole else f"{name} after step {count}"
        body = back + self.painting.flat(looks) + words + self._tailgate()
        return figure(title, self.sheet.height, body)

    def _tailgate(self) -> str:
        middle = ((self.box.x0 + self.box.x1) // 2, 0, 0)
        ((x, y),) = self.sheet.spots(self.camera.project([middle]))
        return text(Label(x, y + 44, 2), "tailgate", "cap")
