"""The nose in a write-up: where the thrust goes, part by part."""

from workshop_lib.drawings.bearing_drawings import thrust_view
from workshop_lib.load_path import trace
from workshop_lib.plan import brief
from workshop_lib.quantities import times_over
from workshop_lib.write_up.page_parts import Heading, Picture, Table, Text


def nose_parts(job):
    """The path of the thrust through the nose, with what each part could carry."""
    found = trace(job["nose.design"], job.thrust, speed=job["cut.speed"])
    rows = [
        (
            each.name,
            brief(each.axial, 3),
            f"{times_over(each.margin)} times" if each.margin < 1e6 else "–",
        )
        for each in found.path
    ]
    return [
        Heading("Where the thrust goes"),
        Text(
            f"{found.design.name[:1].upper()}{found.design.name[1:]}. It turns with the disc and "
            "drives nothing. While it can float sideways it locates nothing either, so it is no "
            "live centre. The sizes of this nose are invented: measure your own, and look its "
            "bearings up, before you rely on what they could carry."
        ),
        Picture(thrust_view(found).figure(), "nose", "The nose in section, with its thrust.", True),
        Table(tuple(rows), ("Part", "Axial load", "Could carry")),
    ]
