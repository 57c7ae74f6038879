"""Can this lathe do it? Its swing, its thrust and its speeds, as the shop says them."""

from workshop_lib.plan.reasons import OPEN, Change, Reason, brief, graded, share
from workshop_lib.quantities import resolution


def lathe(job):
    """Does the blank turn over its bed, can it take the thrust, and has it the speed?"""
    own = None if job.shop is None else job.shop.lathe
    if own is None:
        return []
    return [*_swing(job, own), *_thrust(job, own), *_speed(job, own)]


def _swing(job, own):
    if own.swing is None:
        return
    corners = 2 * job.passes[0].from_radius
    use = share(corners, own.swing)
    words = f"The corners turn in a circle of {brief(corners, 3)}; your lathe swings "
    words += f"{brief(own.swing, 3)}"
    told = Change("Snip the blank closer, or take a larger lathe.")
    mend = (lambda: (told,)) if use > 1 else tuple
    yield Reason("lathe", graded(use), use, f"{words}.", corners, own.swing, mend)


def thrust(job):
    """Can the lathe take the thrust?"""
    own = None if job.shop is None else job.shop.lathe
    return [] if own is None else list(_thrust(job, own))


def _thrust(job, own):
    if own.highest_thrust is None:
        return
    use = share(job.high_thrust, own.highest_thrust)
    words = f"The thrust may reach {brief(job.high_thrust, 3)}; your lathe may take "
    words += f"{brief(own.highest_thrust, 3)}"
    told = Change("Press less and take a lighter cut, or use a pad facing that grips better.")
    mend = (lambda: (told,)) if use > 1 else tuple
    yield Reason("lathe", graded(use), use, f"{words}.", job.high_thrust, own.highest_thrust, mend)


def _speed(job, own):
    given = job["cut.speed"].m_as("rpm")
    numbers = [float(each.m_as("rpm")) for each in own.speeds]
    if not numbers or any(resolution.same(each, given) for each in numbers):
        return
    slower = [each for each in numbers if each < given]
    near = max(slower, default=min(numbers))
    words = f"Your lathe has no {brief(job['cut.speed'], 3)}"
    speed = f"{near:g} rev/min"
    told = Change(f"Take {speed}, or leave cut.speed out.", {"cut.speed": speed})
    yield Reason("lathe", "open", OPEN, f"{words}.", job["cut.speed"], None, lambda: (told,))
