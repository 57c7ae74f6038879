"""Files that learners and teachers make, as targets of the fuzz: lists, tables, exercises, jobs."""

import json
import re
import tempfile
from pathlib import Path

from tests.fuzz import entries, readers, scenes, tables
from tests.fuzz.law import Wrong
from workshop_lib import plan
from workshop_lib.launcher import class_list
from workshop_lib.launcher.trouble import Trouble, printable
from workshop_lib.lessons.plan import own_job
from workshop_lib.own_files import plainly, translations, writer
from workshop_lib.quantities import InputError
from workshop_lib.teaching import answer_file, own_exercises

TEMPORARY = tempfile.TemporaryDirectory(prefix="workshop-fuzz-own-")
FOLDER = Path(TEMPORARY.name)


def people(rng):
    """A class list: everybody on it is read by that name, with a login of their own."""
    name = ["Åsa Öberg", "J. O'Neill", "Иван", "李", "Bo", "=1+1", "<b>x</b>", " ", "x" * 70]
    login = ["", "asa", "Root", "a--b", "bo", "../x", "x" * 31, "ümit"]
    separator = rng.choice([",", ";", "\t"])
    lines = [rng.choice(["Name", "Vorname;Login", "# list", "", "Bo"])]
    for _ in range(rng.choice([0, 1, 5, 30])):
        cells = [rng.choice(name) if rng.random() < 0.05 else f"Kim {rng.randrange(4000)}"]
        cells += [rng.choice(login)] if rng.random() < 0.05 else []
        cells += ["x"] if rng.random() < 0.01 else []
        lines.append(separator.join(cells))
    text = rng.choice(["\n", "\r\n", "\n\n"]).join(lines)
    text += rng.choice(["", "\n", '"', "\0", "\x1a"])
    coded = text.encode(rng.choice(["utf-8"] * 5 + ["utf-8-sig", "utf-16", "latin-1"]), "replace")

    def act():
        path = FOLDER / "class.csv"
        path.write_bytes(coded)
        try:
            found = class_list.read(path)
        except Trouble as refused:
            raise InputError("class", printable(refused)) from None
        written = " ".join(coded.decode("utf-8-sig").split())
        for learner in found:
            if learner.name not in written or not class_list.LOGIN.fullmatch(learner.login):
                raise Wrong(f"{learner} is not in the list")
        if len({each.login for each in found}) < len(found):
            raise Wrong("two learners have one login")

    return act, {"text": text}


GOOD_TASK = {
    "lesson": "02",
    "name": "winter",
    "question": "A cold pad: 600 N and friction 0.2. How large a side force can its face hold?",
    "kind": "force",
    "answer": "120 N",
    "within": "2 %",
    "mistakes": [["240 N", "You counted both faces."]],
    "hints": ["Friction times thrust."],
    "solution": "0.2 × 600 N",
    "caution": "Stop the lathe.",
}
CHOSEN = GOOD_TASK | {"name": "which", "answer": "a", "mistakes": [["b", "No."]]}
del CHOSEN["kind"]
CHOSEN["options"] = {"a": "yes", "b": "no", "c": "<b>perhaps</b>"}


def own_exercises_file(rng):
    """A teacher's exercises: asked and judged without markup of theirs, or refused."""
    made = {"exercise": [dict(GOOD_TASK), dict(CHOSEN)]}
    for _ in range(rng.choice([0, 1, 1, 2])):
        made = entries.spoilt(rng, made)
    try:
        text = writer().dumps(made)
    except Exception:  # what TOML cannot hold is nobody's file
        text = rng.choice(["[[exercise]]", "exercise = 3", "exercise = [1]", "[exercise]", "["])

    def act():
        with tables.additions(own_exercises.FILE, text):
            for task in own_exercises.of_lesson("02"):
                shown = [task.judged(given) for given in ("120 N", "240 N", "a", "b", "", "x")]
                pages = [str(each.block().html()) for each in shown]
                pages += [str(task.worked().html()), str(task.ask().still().html())]
                pages += [str(task.hint(1).html())] if task.hints else []
                found = RUNS.search("".join(pages))
                if found:
                    raise Wrong(f"markup in an exercise: {found[0]}")

    return act, {"text": text}


def kept_values(rng):
    """What a panel kept in an answer file, spoilt: the panel opens with what can be read."""
    title = rng.choice(sorted(scenes.scenes()))
    scene = scenes.made(title)
    values = {each.name: scenes.entry(rng, each) for each in scene.fields}
    entry = {"units": rng.choice([None, "inch", 7]), "values": rng.choice([values, values, 3, [1]])}
    line = json.dumps({"key": f"panel: {scene.title}", **entry}, default=str)
    text = answer_file.HEAD + line + rng.choice(["\n", "", "\n{", "\n\x00\n"])

    def act():
        path = FOLDER / "my_answers.jsonl"
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        before = answer_file.use(answer_file.FileStore(path))
        try:
            scenes.shown(scene.panel(), {})
        finally:
            answer_file.use(before)

    return act, {"scene": title, "text": text}


TOLD = ["photograph", "attempt", "notes.went_wrong", "notes.remarks", "about.title"]
TOLD += ["run_out.tests", "measured.scan", "disc.count"]
RUNS = re.compile(r"<(script|img src=x|svg onload|b>)|<[^>]*onerror", re.IGNORECASE)


def own_job_file(rng):
    """A learner's job in a folder with pictures: looked over, written up and put on a card."""
    key = rng.choice([*TOLD * 3, *plan.entry_table.ENTRIES])
    text = _job_text(rng, rng.choice(entries.jobs()), key)
    what = rng.choice([own_job.look_over, own_job.look_over, own_job.publish, own_job.card])
    picture = rng.choice(readers._photographs()) if rng.random() < 0.8 else b"no picture"

    def act():
        folder = FOLDER / "jobs"
        folder.mkdir(exist_ok=True)
        for old in folder.glob("*.*"):
            old.unlink()
        (folder / "set_up.jpg").write_bytes(picture)
        path = folder / "mine.toml"
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        shown = str(what(path).html())
        for page in folder.glob("*.html"):
            shown += page.read_text(encoding="utf-8").partition("<body")[2]
        if RUNS.search(shown):
            raise Wrong(f"markup in the page: {RUNS.search(shown)[0]}")
        plain = re.sub(r"<[^>]*>", " ", shown)
        if "nan" not in text and re.search(r"\bnan\b|Traceback|object at 0x|Quantity\(", plain):
            raise Wrong("the page says a word of the machine")

    return act, {"what": what.__name__, "key": key, "text": text}


def _job_text(rng, job, key):
    """The file of a job with one of its entries as in its example, or spoilt."""
    value = entries.example(key)
    value = entries.spoilt(rng, value) if rng.random() < 0.7 else value
    values = {name: plainly(each) for name, each in job.values.items()}
    for name, more in (entries._beside(job, key) | {key: value}).items():
        values.pop(name, None)
        values |= {} if more is None else {name: more}
    nested = {}
    for name, each in values.items():
        section, _, inside = name.partition(".")
        nested |= {section: nested.get(section, {}) | {inside: each} if inside else each}
    try:
        return writer().dumps(nested)
    except Exception:  # what TOML cannot hold is nobody's file
        return "about = 3"


def language_file(rng):
    """Texts of another language, spoilt: every text is English with its translation, or refused."""
    lines = (translations.BUILT_IN / "de.po").read_text(encoding="utf-8").splitlines()
    at = rng.randrange(len(lines))
    lines = lines[at : at + 60]
    for _ in range(rng.randrange(4)):
        at, odd = (
            rng.randrange(len(lines)),
            ["{thrust", "{0}", "}", '"', "\\", "<b>x</b>", "\0", "n"],
        )
        place = rng.randrange(len(lines[at]) + 1)
        lines[at] = lines[at][:place] + rng.choice(odd) + lines[at][place + rng.randrange(3) :]
        lines = rng.choice([lines] * 4 + [lines[:at] or lines, lines[at:], lines * 2])
    text = "\n".join(lines)

    def act():
        for english, (told, line) in translations.texts_from(text, "xx.po").items():
            if not (isinstance(english, str) and isinstance(told, str) and line):
                raise Wrong(f"{english!r} is told as {told!r}")

    return act, {"text": text}


READERS = {
    "language_file": language_file,
    "own_table": tables.own_table,
    "class_list": people,
    "own_exercises": own_exercises_file,
    "kept_values": kept_values,
    "own_job": own_job_file,
}


def targets():
    """Yield (name, function of a random source) for every reader of such a file."""
    for name, prepare in READERS.items():
        yield f"reader {name}", prepare
