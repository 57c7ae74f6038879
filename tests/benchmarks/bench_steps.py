"""What does one step of a slider cost in Python, for every panel of every lesson?

    python -m tests.benchmarks.run_all steps

From the values that the page sends to the finished face that goes back, without the browser: the
median over steps of the dearest slider of each panel. The reference is a budget of 8 ms, a quarter
of what a text-only widget takes in a browser; it is the one reference here that is not measured in
the same run.
"""

import statistics
import time

from tests.benchmarks.timing import Result
from tests.fuzz.scenes import scenes

BUDGET = 8.0  # ms
STEPS = 9


def values(field):
    """Slider positions near a field's start, as the page writes them; none where none slides."""
    if not getattr(field, "slider", None) or not hasattr(field, "unit"):
        return []
    low, high, step = field.slider
    start = min(max(float(field.position(field.start)), low), high)
    way = 1 if start + (STEPS + 1) * step <= high else -1
    places = [start + way * step * number for number in range(1, STEPS + 2)]
    return [f"{place:.6g} {field.unit}".strip() for place in places if low <= place <= high]


def step_ms(panel, field):
    """The median time of a step of one slider, ms, or 0 where it has none."""
    taken = []
    for place in values(field):
        begun = time.perf_counter()
        panel.answer("", {field.name: place})
        taken.append(1e3 * (time.perf_counter() - begun))
    panel.answer("", {field.name: field.start})
    return statistics.median(taken[1:]) if len(taken) > 2 else 0.0


def results():
    """The dearest slider of every panel."""
    found = []
    for name, make in sorted(scenes().items()):
        scene = make()
        panel = scene.panel()
        cost = {field.name: step_ms(panel, field) for field in scene.fields}
        dearest = max(cost, key=cost.get)
        if cost[dearest]:
            found.append(Result(f"{name}: {dearest}", cost[dearest], BUDGET, 1))
    return found
