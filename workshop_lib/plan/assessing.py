"""Is a job ready to turn? One verdict, the reasons in order of weight, and what to change."""

import warnings
from dataclasses import dataclass, field

from workshop_lib.plan.answer_table import answer_table
from workshop_lib.plan.checked_job import Job
from workshop_lib.plan.checks import all_reasons
from workshop_lib.plan.names import QUESTIONS
from workshop_lib.quantities import InputError, OutOfRangeWarning, quote
from workshop_lib.uncertainty import chance_of_slip

DRAWS, SEED = 100_000, 1
WORDS = {
    "planned": {"yes": "Ready to turn", "open": "Not yet", "no": "Do not run this plan"},
    "turned": {"yes": "A sound plan", "open": "A marginal plan", "no": "A plan that does not hold"},
}


@dataclass(frozen=True, eq=False)
class Assessment:
    """A job, judged. holds: "yes", "open" or "no"; verdict: the same in a sentence.

    reasons: a tuple of `Reason`, the heaviest first. changes: what to do, each with its number.
    cautions, remarks: sentences that go with it. chance: a `SlipChance`, or None if not asked.
    """

    job: Job = field(repr=False)
    holds: str
    verdict: str
    reasons: tuple = field(repr=False)
    cautions: tuple = field(repr=False)
    remarks: tuple = field(repr=False)
    chance: object = field(repr=False)

    @property
    def changes(self):
        """What to change, in the order of the reasons; the same advice once."""
        every = [change for reason in self.reasons for change in reason.changes]
        return tuple({change.sentence: change for change in every}.values())

    @property
    def mends(self):
        """Rows of a question that fails, and a sentence on how to fix it."""
        return tuple(
            (QUESTIONS[reason.about], change.sentence)
            for reason in self.reasons
            for change in reason.changes
        )

    @property
    def told_chance(self):
        """The chance of slip where the hold is good; else None.

        A sentence such as "no slip in so many draws" beside a plan that holds too little would be
        read as leave to go on.
        """
        return self.chance if self.reason("hold").holds == "yes" else None

    @property
    def table(self):
        """The answer in one small table, see `answer_table`."""
        with self.job.speaking():
            return answer_table(self.job, self.reasons)

    def reason(self, about):
        """The reason of that name, such as "hold", or None."""
        return next((each for each in self.reasons if each.about == about), None)


def assess(job, draws=DRAWS, seed=SEED):
    """Is this job ready to turn, and if not, what is to be changed?

    All models are asked: the sheet, the hold at every pass at low friction and high cutting force,
    the facing's pressure, the rim, tipping, speed, ringing, the nose's parts, run-out as measured.
    job: `Job`. draws: of the chance of slip; 0 leaves it out. seed: of the draws. Returns an
    `Assessment`. Raises InputError. Notes: the verdict rests on the models and on what was typed;
    local rules, the machine's own instructions and a trained instructor come before it.
    """
    if not isinstance(job, Job):
        raise InputError("job", f"{quote(job)} is not a job", "Load one, or make one with plan.job")
    with job.speaking():
        return _judged(job, draws, seed)


def _judged(job, draws, seed):
    reasons, cautions, remarks = all_reasons(job)
    heaviest = reasons[0]
    hold = next(each for each in reasons if each.about == "hold")
    told = hold if heaviest.holds == "yes" else heaviest
    with warnings.catch_warnings():  # said among the remarks already
        warnings.simplefilter("ignore", OutOfRangeWarning)
        chance = chance_of_slip(job, draws, seed) if draws else None
    return Assessment(
        job,
        heaviest.holds,
        f"{WORDS[job['about.state']][heaviest.holds]}. {_with_saving(job, reasons, told)}",
        tuple(reasons),
        tuple(each.sentence for each in cautions),
        remarks,
        chance,
    )


def _with_saving(job, reasons, told):
    """What weighs most, and what a closer blank would save: first where nothing speaks against."""
    saving = [] if job["about.state"] == "turned" else [
        change.sentence for each in reasons if each.about == "blank" for change in each.changes
    ]  # fmt: skip
    return " ".join([*saving, told.sentence] if told.holds == "yes" else [told.sentence, *saving])
