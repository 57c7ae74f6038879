"""How is a typed amount read, checked, computed with and shown? Units at the edge of every call."""

from workshop_lib.quantities import resolution
from workshop_lib.quantities.errors import (
    LONGEST_TEXT,
    InputError,
    OutOfRangeWarning,
    quote,
    refuse_missing,
)
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.rounding import rounded_down, times_over
from workshop_lib.quantities.spoken_text import either, spoken
from workshop_lib.quantities.systems import (
    SMALL,
    SYSTEMS,
    Spoken,
    in_system,
    known_system,
    speak,
    speaking,
    system,
    system_of,
    unit_for,
)
from workshop_lib.quantities.typed_text import number_and_unit, wrong_unit
from workshop_lib.quantities.unit_boundary import (
    as_shown,
    boundary,
    common_shape,
    one_value,
    to_core,
    whole_number,
)
from workshop_lib.quantities.units import (
    Q_,
    Quantity,
    angle_parts,
    as_numbers,
    hides_turns,
    kind_of,
    names_energy,
    parse_unit,
    read,
    rounded,
    show,
    unit_text,
    ureg,
)

__all__ = [
    "InputError",
    "KINDS",
    "LONGEST_TEXT",
    "OutOfRangeWarning",
    "Q_",
    "Quantity",
    "SMALL",
    "SYSTEMS",
    "Spoken",
    "angle_parts",
    "as_numbers",
    "as_shown",
    "boundary",
    "common_shape",
    "either",
    "hides_turns",
    "in_system",
    "kind_of",
    "known_system",
    "names_energy",
    "number_and_unit",
    "one_value",
    "parse_unit",
    "quote",
    "read",
    "refuse_missing",
    "resolution",
    "rounded",
    "rounded_down",
    "show",
    "speak",
    "speaking",
    "spoken",
    "system",
    "system_of",
    "times_over",
    "to_core",
    "unit_for",
    "unit_text",
    "ureg",
    "whole_number",
    "wrong_unit",
]
