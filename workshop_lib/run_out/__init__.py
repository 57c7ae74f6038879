"""What does the needle tell? Readings, what they fit, and what causes them."""

from workshop_lib.run_out import causes
from workshop_lib.run_out.clocking_list import clockings
from workshop_lib.run_out.corrections import correction
from workshop_lib.run_out.diagnosis import diagnose
from workshop_lib.run_out.hidden_faults import HIDEABLE, mystery
from workshop_lib.run_out.lobes import harmonics
from workshop_lib.run_out.planes import axis_through, face_tilt, out_of_square
from workshop_lib.run_out.push import push_test
from workshop_lib.run_out.reading_errors import limacon_error, true_travel
from workshop_lib.run_out.reading_text import from_csv, from_rows, from_text, lengths_from_text
from workshop_lib.run_out.readings import PLACES, SURFACES, Push, Readings, Total
from workshop_lib.run_out.round_fit import fit
from workshop_lib.run_out.separation import reversal, separate
from workshop_lib.run_out.shifts import shift_between, shifts_that_explain

__all__ = [
    "HIDEABLE",
    "PLACES",
    "Push",
    "Readings",
    "SURFACES",
    "Total",
    "axis_through",
    "causes",
    "clockings",
    "correction",
    "diagnose",
    "face_tilt",
    "fit",
    "from_csv",
    "from_rows",
    "from_text",
    "harmonics",
    "lengths_from_text",
    "limacon_error",
    "mystery",
    "out_of_square",
    "push_test",
    "reversal",
    "separate",
    "shift_between",
    "shifts_that_explain",
    "true_travel",
]
