"""Does a panel stand on the next day as it was left? Its values are kept beside the answers.

A panel is known by its title. What was typed in the other system of units, or for a field that is
no longer there, is left where it is.
"""

import asyncio

from workshop_lib.quantities import InputError, system
from workshop_lib.teaching import answer_file

PAUSE = 1.0  # s: a slider that runs is kept once, when it stands
LONGEST = 4000  # characters; a recorded sound is not kept
KEY = "panel: {}"
_waiting = {}


def of(scene):
    """Return the values that were set last in a panel, by field name."""
    entries = answer_file.current().entries(KEY.format(scene.title))
    entry = next((each for each in reversed(entries) if each.get("units") == system()), {})
    values = entry.get("values")
    fields = {each.name: each for each in scene.fields}
    return {
        name: value
        for name, value in (values.items() if isinstance(values, dict) else ())
        if name in fields and _reads(fields[name], value)
    }


def keep(scene, given):
    """Keep a panel's values, once nothing has been set for a moment, where answers have a file."""
    if not isinstance(answer_file.current(), answer_file.FileStore):
        return
    entry = {"units": system(), "values": {n: v for n, v in given.items() if _is_short(v)}}
    key = KEY.format(scene.title)
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:  # no page is open on this
        _record(key, entry)
        return
    if key in _waiting:
        _waiting.pop(key).cancel()
    _waiting[key] = loop.call_later(PAUSE, _record, key, entry)


def _record(key, entry):
    _waiting.pop(key, None)
    kept = answer_file.current().entries(key)
    if not kept or {**kept[-1], **entry} != kept[-1]:
        answer_file.current().record(key, entry)


def _is_short(value):
    return isinstance(value, bool) or (isinstance(value, str) and len(value) <= LONGEST)


def _reads(field, value):
    try:
        field.read(value)
    except InputError:
        return False
    return True
