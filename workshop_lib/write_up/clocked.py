"""Run-out in a write-up: what was clocked, what it points to, what to try next."""

from workshop_lib.drawings.run_out_charts import polar_plot
from workshop_lib.plan import brief
from workshop_lib.quantities import Quantity, show
from workshop_lib.run_out import Total, diagnose
from workshop_lib.write_up.page_parts import Heading, Picture, Table, Text

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
