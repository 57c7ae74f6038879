"""How is a typed amount read, checked, computed with and shown? Units at the edge of every call."""

from workshop_lib.quantities import resolution
from workshop_lib.quantities.catalogue import (
    ENGLISH,
    language,
    say,
    speak_in,
    speaking_in,
)
from workshop_lib.quantities.errors import (
    LONGEST_TEXT,
    InputError,
    OutOfRangeWarning,
    quote,
    refuse_missing,
)
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.rounding import figures_known, rounded_down, times_over
from workshop_lib.quantities.spoken_text import either, spoken
from workshop_lib.quantities.systems import (
    SMALL,
    SYSTEMS,
    in_system,
    speak,
    speaking,
    system,
    system_of,
    unit_for,
)
from workshop_lib.quantities.typed_text import number_and_unit, unmistakable, wrong_unit
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
    parse_unit,
    read,
    rounded,
    show,
    unit_text,
    ureg,
)

__all__ = [
    "ENGLISH",
    "InputError",
    "KINDS",
    "LONGEST_TEXT",
    "OutOfRangeWarning",
    "Q_",
    "Quantity",
    "SMALL",
    "SYSTEMS",
    "angle_parts",
    "as_numbers",
    "as_shown",
    "boundary",
    "common_shape",
    "either",
    "figures_known",
    "hides_turns",
    "in_system",
    "kind_of",
    "language",
    "number_and_unit",
    "one_value",
    "parse_unit",
    "quote",
    "read",
    "refuse_missing",
    "resolution",
    "rounded",
    "rounded_down",
    "say",
    "show",
    "speak",
    "speak_in",
    "speaking",
    "speaking_in",
    "spoken",
    "system",
    "system_of",
    "times_over",
    "to_core",
    "unit_for",
    "unit_text",
    "unmistakable",
    "ureg",
    "whole_number",
    "wrong_unit",
]
