"""Which exercises of lesson 06 ask whether the finished disc is round and to size?"""

from workshop_lib.instruments import departure_from_total, expansion, heat_growth, vee_factor
from workshop_lib.materials import find_material
from workshop_lib.quantities import Q_, either, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

PANEL = "What does a V show of the lobes?"
SHARP = "A fresh-cut edge is sharp: deburr it before you turn it by hand."


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _lobes(), _warm()


def _factor(lobes, angle):
    return abs(float(vee_factor(lobes, Q_(angle, "deg"))))


@sized(total="um")
def _lobes(lobes=3, angle=60, total=36):
    factor = _factor(lobes, angle)
    swing = Q_(total, "um")
    answer = departure_from_total(swing, lobes, Q_(angle, "deg"))
    return Exercise(
        "l06-task-lobes",
        f"A disc turns in a V of {angle}° under an indicator. The needle goes up and down {lobes} "
        f"times in a turn, and its total is {total} µm. How far from round is the disc, from "
        "hollow to crest?",
        answer,
        within="2 %",
        common_wrong=[
            (swing, "That is what the needle shows. A V shows lobes larger or smaller than they "
             "are, so divide by its factor."),
            (swing / 2, "2 is the factor for a micrometer and an even number of lobes. This V has "
             "another factor."),
            (swing * factor, "You multiplied. The needle shows the lobes that many times too "
             "large, so divide."),
            (answer / 2, "That is the amplitude, from the middle to a crest. Roundness counts from "
             "hollow to crest."),
        ],
        hints=[
            "How many times the height of the lobes does this V show? The panel tells you.",
            f"F = 1 + cos({lobes} × {90 + angle / 2:g}°)/sin {angle / 2:g}° = {factor:.2f}; the "
            "total divided by that.",
        ],
        solution=f"This V shows {lobes} lobes {factor:.2f} times: {total} µm / {factor:.2f} = "
        f"{show(answer)}.",
        remake=redraw(
            _lobes,
            lambda lobes, angle, total: all(
                abs(_factor(lobes, angle) - other) > 0.25 for other in (0, 0.5, 1, 2)
            ),
            lobes=(2, 3, 5, 6), angle=(60, 108, 120), total=range(20, 62, 2),
        ),
        paper="F = 1 + cos(n (90° + β/2))/sin(β/2), with n lobes and β the angle of the V",
        panel=PANEL,
        caution=SHARP,
    )  # fmt: skip


@sized(across="mm")
def _warm(material="acrylic", across=150, warmer=15):
    sheet = find_material(material)
    answer = heat_growth(Q_(across, "mm"), sheet, warmer).to("um")
    degree, times = either(("°C", 1.0), ("°F", 1.8))
    share, degrees = 1e6 * expansion(sheet).typical / times, times * warmer
    return Exercise(
        "l06-task-warm",
        f"A disc of {sheet.name}, {across} mm across, is {degrees:g} {degree} warmer than the room "
        f"when you measure it. It grows by {share:.4g} millionths for each {degree}. How much "
        "smaller will its diameter be tomorrow, at room temperature?",
        answer,
        within="2 %",
        common_wrong=[
            (answer / 2, "That is the radius. The whole diameter shrinks."),
            (answer / degrees, "That is the change for one degree."),
            (answer / 10, "A decimal place has slipped: it is ten times that. Count the noughts "
             "of a millionth."),
            (answer * 10, "A decimal place has slipped: it is a tenth of that. Count the noughts "
             "of a millionth."),
            (answer * 3, "That is three times too much: volume grows three times as fast. A "
             "diameter is a length."),
        ],
        hints=[
            "Multiply the growth per degree by the degrees and by the diameter.",
            f"{share:.4g} × 10^{{−6}} × {degrees:g} × {across} mm.",
        ],
        solution=f"{share:.4g} × 10^{{−6}} × {degrees:g} × {across} mm = {show(answer)}. Let "
        "it cool on a metal plate before you measure.",
        remake=redraw(
            _warm,
            material=("acrylic", "pvc", "polycarbonate", "aluminium", "stainless_steel"),
            across=range(60, 190, 10), warmer=(5, 10, 15, 20, 25),
        ),
        paper="ΔD = α D ΔT",
        withheld=True,
    )  # fmt: skip
