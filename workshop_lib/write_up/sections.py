"""What does a write-up say of its nose, its run-out and its sources?"""

from workshop_lib import sources
from workshop_lib.drawings.bearing_drawings import thrust_view
from workshop_lib.drawings.run_out_charts import polar_plot
from workshop_lib.load_path import OWN, trace
from workshop_lib.plan import brief
from workshop_lib.quantities import Quantity, show, system, times_over
from workshop_lib.run_out import Total, diagnose
from workshop_lib.write_up.page_parts import Heading, Picture, References, Table, Text

MOST_CAUSES = 4
LEAST_SHARE = 0.01  # of belief, below which a cause is not named
FINE = 0.1  # mm; what is smaller is told in micrometres


def run_out_parts(job):
    """What was clocked and what it points to; nothing where nothing was clocked."""
    if not job.tests:
        return []
    found = diagnose(job.tests)
    rows, pictures = [], []
    for number, test in enumerate(job.tests, start=1):
        name = test.name or f"{test.where}, {test.what}"
        if isinstance(test, Total):
            rows.append((name, _where(test), brief(test.total), "not noted"))
            continue
        fit = test.fit()
        fine = "um" if fit.total.m_as("mm") < FINE else "mm"
        fine = "thou" if system() == "inch" else fine
        spot = show(fit.high_spot) if fit.tells_high_spot else "cannot be told"
        rows.append((name, _where(test), brief(fit.total), spot))
        drawing = polar_plot(test, fit, fine).figure()
        pictures.append(Picture(drawing, f"clocked_{number}", f"Readings round the turn: {name}."))
    likely = [row for row, each in zip(found.rows, found.findings, strict=True)
              if each.share >= LEAST_SHARE]  # fmt: skip
    causes = [(*row[:-1], _size(row[-1])) for row in likely[:MOST_CAUSES]]
    return [
        Heading("Run-out"),
        Table(tuple(rows), ("Test", "Where", "Indicator total", "High spot")),
        *pictures,
        Text(found.verdict),
        Table(tuple(causes), ("Cause", "Part", "Share of belief", "Size if it were that")),
        *_next(found),
    ]


def _next(found):
    """What to clock next, with its caution, where anything would tell more."""
    if found.next_test is None:
        return []
    said = f"What to clock next: {found.next_test.sentence} {found.next_test.caution}"
    return [Text(said.strip())]


def _where(test):
    return test.where if test.what == "radial" else f"{test.where}, {test.what}"


def _size(size):
    return brief(size) if isinstance(size, Quantity) else size


_INVENTED = (
    "The sizes of this nose are invented: measure your own, and look its bearings up, before you "
    "rely on what they could carry."
)
_OWN = (
    "Its sizes and bearings are those of the shop file: measure them again before you rely on it."
)


def nose_parts(job):
    """The path of the thrust through the nose, with what each part could carry."""
    found = trace(job.nose, job.thrust, speed=job["cut.speed"])
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
            f"live centre. {_OWN if found.design.source == OWN else _INVENTED}"
        ),
        Picture(thrust_view(found).figure(), "nose", "The nose in section, with its thrust.", True),
        Table(tuple(rows), ("Part", "Axial load", "Could carry")),
    ]


ALWAYS = "argatov-2005 timoshenko-plates iso-281-fc elementary-mechanics jcgm-101"


def keys_of(job):
    """Citation keys of this job, in order and each once."""
    cited = " ".join(job.material.cited.values())
    given = [job.friction.sources, job.listed_friction.sources, job.radial_share.sources]
    gauge = job.gauge.sources if job.gauge is not None else ""
    keys = f"{cited} {' '.join(given)} {gauge} {ALWAYS}".split()
    return tuple(dict.fromkeys(keys))


def sources_part(job):
    """The sources with their standing."""
    found = [sources.find_source(key) for key in keys_of(job)]
    rows = [(each.short, each.standing, f"{each.reference} {each.note}".strip()) for each in found]
    return References(tuple(rows))
