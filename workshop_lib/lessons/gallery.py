"""Which drawings are kept in `figures/`? Redrawn by one command, for README and hand-outs."""

from pathlib import Path

from workshop_lib.drawings.setup_drawings import face_view, section
from workshop_lib.friction import Pad
from workshop_lib.lessons.slip.panels import slip_scene
from workshop_lib.quantities import Q_

FOLDER = Path(__file__).resolve().parents[2] / "figures"


def drawings():
    """The SVG text of every kept drawing, by file name."""
    pad = Pad("60 mm")
    cover = section(
        pad, Q_(78, "mm"), Q_(0.635, "mm"), Q_(800, "N"), Q_(37, "N"), Q_(26, "N")
    ).figure()
    turning = face_view(pad, Q_(168, "N"), Q_(3.36, "N*m")).figure()
    limit = slip_scene().look(slip_scene().given()).view.picture
    found = {"set_up.svg": cover, "pad_face.svg": turning, "limit_curve.svg": limit}
    return {name: f"{figure.svg}\n" for name, figure in found.items()}


def main(arguments):
    """Redraw every drawing into `figures/`; return an exit status."""
    if arguments:
        print("figures takes no arguments")  # noqa: T201
        return 2
    FOLDER.mkdir(exist_ok=True)
    for name, svg in drawings().items():
        (FOLDER / name).write_text(svg, encoding="utf-8", newline="\n")
        print(f"figures/{name}: drawn")  # noqa: T201
    return 0
