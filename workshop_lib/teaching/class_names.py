"""Which names stand on a class list? One learner on a line; what follows a comma is left out."""

from workshop_lib.quantities import InputError, quote

LONGEST, MOST = 60, 200  # letters of a name, names
HEADINGS = ("name", "names", "full name", "student", "learner")


def read(path):
    """Return the names on a class list, in its order.

    path: a text or CSV file in UTF-8, such as the list of `class add`; a first line that only says
    "name", empty lines and those behind a # are left out. Raises InputError that names the line.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        why = "is no UTF-8 text" if isinstance(error, UnicodeDecodeError) else "cannot be read"
        raise InputError("names", f"{quote(str(path))} {why}") from None
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        mark = next((each for each in "\t;" if each in line), ",")
        name = " ".join(line.partition(mark)[0].strip(' "').split())
        if name.startswith("#") or (not found and name.lower() in HEADINGS) or not line.strip():
            continue
        if not name or len(name) > LONGEST or not name.isprintable():
            problem = f"line {number} of {quote(path.name)} has no name of 1 to {LONGEST} letters"
            raise InputError("names", problem)
        found.append(name)
    if not 0 < len(found) <= MOST:
        raise InputError("names", f"{len(found)} names stand in {quote(path.name)}", "1 to 200")
    return found
