"""Is my own job ready? A form with a job's main entries: saved, opened, written up by buttons."""

import os
from contextlib import suppress
from pathlib import Path

from workshop_lib import plan, shop, write_up
from workshop_lib.drawings.setup_drawings import section
from workshop_lib.lessons.plan.form_fields import NAME, PATHS, WHICH, form_fields, typed
from workshop_lib.lessons.plan.panels import FOLDER, JOBS, WORDS, answers
from workshop_lib.own_files import FaultList
from workshop_lib.quantities import InputError, speaking, system
from workshop_lib.teaching import kept_values
from workshop_lib.teaching.fields import OF_A_GAUGE
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.teaching.writing import Button, WritingPanel, Written

MINE = "my_jobs"
FRESH = "tide_gauge_lid"  # a plan without measurements: what a new form starts from
# What nobody takes over from somebody else's job.
NOT_MINE = ("about.", "measured.", "run_out.", "notes.", "attempt", "sheet.gauge", "sheet.readings")
IN_INCH = {
    "sheet.thickness": "0.05 in",
    "disc.diameter": "4 3/8 in",
    "blank.across_flats": "4 1/2 in",
    "pad.outer_diameter": "4 in",
    "pad.inner_diameter": "2 3/8 in",
    "pad.facing_thickness": "1/8 in",
    "nose.plate_diameter": "4 in",
    "thrust.force": "220 lbf",
    "thrust.uncertainty": "10 lbf",
    "cut.depth": "3 thou",
    "cut.finishing_depth": "2 thou",
    "cut.feed": "2 thou/rev",
    "cut.nose_radius": "8 thou",
    "rim.bend_allowed": "2 thou",
}
TITLE = "Is my own job ready?"


def my_jobs():
    """The names of the jobs in the folder `my_jobs` beside the lesson, in order."""
    return sorted(path.stem for path in Path(MINE).glob("*.toml"))


def fresh_job():
    """What a new form starts from: a sound plan of the demonstration's, with nobody's name."""
    job = _made_mine(FRESH).changed({"about.title": "My disc", "cut.own_frequency": None})
    return job.changed(IN_INCH) if system() == "inch" else job


def _made_mine(name):
    """One of the demonstration's jobs without what others wrote and measured; of no file."""
    job = plan.load(FOLDER / f"{name}.toml")
    values = {key: each for key, each in job.values.items() if not key.startswith(NOT_MINE)}
    thick = {"sheet.thickness": job.thickness, "about.title": job["about.title"]}
    return plan.job(values | thick, _own_shop())


def _own_shop():
    """The learner's shop; a faulty one is named by the first cell of the lesson."""
    with suppress(InputError):
        return shop.found()
    return None


def form_scene(job=None, which=""):
    """The form of a job. job: `plan.Job` that its entries start from; which: its name, or ""."""
    job = fresh_job() if job is None else job
    names = {"": "a new job"} | {name: name for name in my_jobs()}
    names |= {f"{JOBS_FIRST}{name}": f"demonstration: {words}" for name, words in JOBS.items()}
    return Scene(TITLE, form_fields(job, names, which), Judge(job), words=WORDS)


JOBS_FIRST = "demonstration/"


class Judge:
    """What judges the form: the job's other entries stay as they are."""

    def __init__(self, job):
        self.job = job

    def changed(self, values):
        """The job with what stands in the form; each fault is said at its field."""
        entries = typed(self.job, {key: values[key] for key in PATHS})
        if values[NAME] != self.job["about.title"]:
            entries["about.title"] = values[NAME]
        try:
            return self.job.changed(entries)
        except plan.JobFaults as error:
            raise _at_fields(error) from error

    def __call__(self, **values):
        """The `View` of the form's job, judged."""
        job = self.changed(values)
        found = plan.assess(job, draws=0)
        worst = job.passes.worst
        radial = job.radial_share.high * worst.cutting_force
        sizes = job.pad, job["disc.diameter"], job.thickness, job.thrust
        with job.speaking():
            drawing = section(*sizes, worst.cutting_force, radial)
            return View(found.verdict, found.holds, drawing, answers(found))


def _at_fields(error):
    """The faults of a job, each at its field; what has none is said for the whole form."""
    fields = {path: name for name, path in PATHS.items()} | {"thrust": "thrust_force"}
    fields |= {"about.title": NAME, "blank": "blank_corners", "blank.side": "blank_across_flats"}
    found = [
        InputError(fields.get(each.name, ""), _named(each, fields), _mend(each))
        for each in error.faults
    ]
    return FaultList(found, "form")


def _mend(fault):
    """What would work, for somebody at a form."""
    return OF_A_GAUGE if "is a gauge number" in fault.problem else fault.mend


def _named(fault, fields):
    return fault.problem if fault.name in fields else f"{fault.name} {fault.problem}"


def opened(which):
    """The form of a job by its name among those that may be opened; "" for a new one."""
    if which.startswith(JOBS_FIRST):
        return form_scene(_made_mine(which.removeprefix(JOBS_FIRST)), which)
    return form_scene(plan.load(Path(MINE) / f"{which}.toml") if which else None, which)


def form_panel():
    """The form as a panel with its buttons, at the job that was open last."""
    scene = form_scene()
    which = kept_values.of(scene).get(WHICH, "")
    with suppress(InputError):
        scene = opened(which)
    return JobForm(scene)


class JobForm(WritingPanel):
    """A panel whose values are a job: saved by name in `my_jobs`, and opened again."""

    told = ""

    def __init__(self, scene):
        buttons = (
            Button("save", "Save", self._save),
            Button("write", "Write it up", self._write),
            Button("card", "Card for the machine", self._card),
        )
        super().__init__(scene, *buttons)

    def answer(self, action, values):
        """Take what was set; open what was chosen."""
        self.told, before = "", self.given[WHICH]
        if not action and values.get(WHICH, before) in self._others():
            self.done = None
            return self._opened(values[WHICH])
        return super().answer(action, values)

    def _others(self):
        """The names of the jobs that are not open."""
        choice = next(each for each in self.scene.fields if each.name == WHICH)
        return [name for name in choice.options if name != self.given[WHICH]]

    def _opened(self, which):
        try:
            self._show(opened(which))
        except InputError as error:
            self.told = f"{which} cannot be opened. {error}"
        return self._safe_face()

    def _show(self, scene):
        """Show another form in place of this one."""
        self.scene, self.given, self.good, self.anew = scene, scene.given(), None, True
        self.frame = self.frame | {"fields": [each.spec() for each in scene.fields]}
        kept_values.keep(scene, self.given)

    def _saved(self, values):
        """Save the job by its name, and show it; return it, and its file."""
        job = self.scene.judge.changed(values)
        name = write_up.file_name(values[NAME])
        path = Path(MINE) / f"{name}.toml"
        os.makedirs(MINE, exist_ok=True)
        if path.exists() and values[WHICH] != name:
            mend = "Type another name, or open that job"
            raise InputError(path.name, "is the name of a job you saved before", mend)
        plan.save(job, path)
        job = plan.load(path)
        self._show(form_scene(job, name))
        return job, path

    def _save(self, **values):
        _, path = self._saved(values)
        return Written(f"Saved: {path.as_posix()}.")

    def _write(self, **values):
        job, path = self._saved(values)
        return _linked(write_up.write(job, path.parent), "Open the write-up")

    def _card(self, **values):
        job, path = self._saved(values)
        return _linked(write_up.write_card(job, path.parent), "Open the card")

    def _safe_face(self):
        with speaking(self.scene.judge.job.units or system()):
            return super()._safe_face()

    def _face(self, complaints, beside=None):
        face = super()._face(complaints, beside)
        return face | {"note": self.told or face["note"]}


def _linked(page, label):
    """What a button did, with a link that opens the page."""
    text = page.read_text(encoding="utf-8")
    return Written(f"Saved, and written: {MINE}/{page.name}.", text, label)
