"""Is this job ready to turn? A whole job, from its file to its judgement."""

from workshop_lib.plan.answer_table import HEADINGS
from workshop_lib.plan.assessing import Assessment, assess
from workshop_lib.plan.blank_checks import closer as closer_blank
from workshop_lib.plan.blank_checks import told_closer
from workshop_lib.plan.checked_job import Job
from workshop_lib.plan.checks import assumed, clocked_total, next_clocking
from workshop_lib.plan.comparing import Comparison, compare, compare_judged, said
from workshop_lib.plan.entry_examples import entries
from workshop_lib.plan.entry_faults import JobFaults
from workshop_lib.plan.fixes import thrust_for
from workshop_lib.plan.instrument_lines import note_line, rim_seen, scan_line, sound_heard, typed
from workshop_lib.plan.instrument_readings import note_computed
from workshop_lib.plan.instrument_readings import rows as instrument_rows
from workshop_lib.plan.job_file import job, load, parse, save
from workshop_lib.plan.names import (
    INPUT_NAMES,
    NAMED,
    NEED_NOT_ADD_UP,
    QUESTIONS,
    TOOL_NAMES,
    entry_name,
    facing_name,
    tool_told,
)
from workshop_lib.plan.reasons import as_spoken, brief
from workshop_lib.plan.rim_checks import judge_shape, judge_size, rim_rows
from workshop_lib.plan.settable import set_up
from workshop_lib.plan.sheet_checks import squareness
from workshop_lib.plan.speed_choice import DECIDES
from workshop_lib.plan.speed_choice import choose as choose_speed
from workshop_lib.plan.stacked import at_weakest, layer
from workshop_lib.plan.tries import Attempt, attempts, last_slipped

__all__ = [
    "Assessment",
    "Attempt",
    "attempts",
    "last_slipped",
    "Comparison",
    "DECIDES",
    "HEADINGS",
    "INPUT_NAMES",
    "Job",
    "JobFaults",
    "NAMED",
    "NEED_NOT_ADD_UP",
    "QUESTIONS",
    "TOOL_NAMES",
    "as_spoken",
    "assess",
    "assumed",
    "at_weakest",
    "brief",
    "choose_speed",
    "clocked_total",
    "closer_blank",
    "compare",
    "compare_judged",
    "entries",
    "entry_name",
    "facing_name",
    "job",
    "next_clocking",
    "judge_shape",
    "judge_size",
    "layer",
    "load",
    "parse",
    "said",
    "instrument_rows",
    "rim_rows",
    "save",
    "squareness",
    "thrust_for",
    "set_up",
    "told_closer",
    "tool_told",
    "note_computed",
    "note_line",
    "rim_seen",
    "scan_line",
    "sound_heard",
    "typed",
]
