"""What is wrong with a file? All of it, said at once: each fault by its key and its line."""

import re

from workshop_lib.quantities import InputError

MOST_SHOWN = 40  # faults that a message lists; `faults` holds all of them


class FaultList(InputError):
    """A file cannot be used as it is. faults: one InputError for each key that is at fault."""

    def __init__(self, faults, where):
        self.faults = tuple({str(each): each for each in faults}.values())  # each once
        self.where = where
        count = "one thing" if len(self.faults) == 1 else f"{len(self.faults)} things"
        lines = [f"{where}: {count} to fix", *(f"  {each}" for each in self.faults[:MOST_SHOWN])]
        if len(self.faults) > MOST_SHOWN:
            lines.append(f"  … and {len(self.faults) - MOST_SHOWN} more")
        super().__init__("", "\n".join(lines))
        self.args = ("\n".join(lines),)

    def __reduce__(self):
        return type(self), (self.faults, self.where)


_HEADER = re.compile(r"\s*\[{1,2}\s*([^\[\]#]+?)\s*\]{1,2}\s*(#.*)?")
_ENTRY = re.compile(r"\s*([A-Za-z0-9_.\"' -]+?)\s*=")


def line_of(text, key):
    """The number of the line that holds a dotted key of a TOML text, or None.

    Where it is missing, the line of the longest part of it that is there: its table's heading.

    >>> line_of('[a]\\nb = 1\\n[a.c]\\nd = 2\\n', "a.c.d"), line_of("[a]\\nb = 1\\n", "a.x")
    (4, 1)
    """
    wanted = _parts(re.sub(r"\[\d+\]|,.*", "", key))
    best, place, table = 0, None, []
    for number, line in enumerate(text.splitlines(), start=1):
        header, entry = _HEADER.fullmatch(line), _ENTRY.match(line)
        if header:
            table = found = _parts(header[1])
        elif entry:
            found = [*table, *_parts(entry[1])]
        else:
            continue
        if len(found) > best and wanted[: len(found)] == found:
            best, place = len(found), number
    return place


def _parts(key):
    return [part.strip().strip("\"'") for part in key.split(".")]


def with_line(text, fault):
    """The same fault with its line in front of its key, where that can be found."""
    line = line_of(text, fault.name)
    name = fault.name if line is None else f"line {line}, {fault.name}"
    return InputError(name, fault.problem, fault.mend)
